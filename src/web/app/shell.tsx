import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { followInside } from '../look/drawing.tsx';
import { Icon } from '../look/icons.tsx';
import { Mark } from '../look/mark.tsx';
import { many } from '../look/words.ts';
import { WhoIsHere } from '../people/who-is-here.tsx';
import { useOutbox } from '../server/outbox.ts';
import { usePresence } from '../server/presence.ts';
import { useQueue } from '../server/progress.ts';
import { laboratoryQuery, studyQuery, useScoresAlone } from '../server/queries.ts';
import { Course } from './course.tsx';
import { lastStudy } from './last-study.ts';
import { Notices } from './notices.tsx';
import { chooseTheme, useTheme } from './theme.ts';
import { pathTo, type Where } from './where.ts';

/** What surrounds every place: mark, course, the word that an example is invented, and whether the program answers. */
export function Shell({ where, children }: { where: Where; children: ReactNode }) {
  const scoresAlone = useScoresAlone();
  // Whoever scores alone comes from their rounds and goes back there; nothing else of a study opens to them.
  const study = 'study' in where && !scoresAlone ? where.study : null;
  const all = scoresAlone ? 'To score' : 'All studies';
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: only catches clicks on the links inside.
    // biome-ignore lint/a11y/useKeyWithClickEvents: Enter on a link clicks it.
    <div
      className={`shell ${where.page === 'photo' || where.page === 'beside' ? 'looking-shell' : ''}`}
      onClick={followInside}
    >
      <a className="skip" href="#place">
        To the content
      </a>
      <header className="top">
        <a className="home" href="/" aria-label={`Retentate: ${all.toLowerCase()}`}>
          <Mark size={34} />
          <span className={study === null ? 'home-name' : 'home-name in-study'}>Retentate</span>
        </a>
        {study === null ? null : (
          <a className="top-all" href="/">
            All studies
          </a>
        )}
        {study === null ? null : (
          <a
            className="top-stands"
            href={pathTo({ page: 'stands', study })}
            aria-current={where.page === 'stands' ? 'page' : undefined}
          >
            <Icon name="stands" />
            Where it stands
          </a>
        )}
        {BESIDE.includes(where.page) ? <BackToStudy /> : null}
        <TopState />
        <WhoIsHere />
        <ThemeButton />
      </header>
      <Invented study={study} />
      <div className={study === null ? 'body alone' : 'body'}>
        {study === null ? null : <Course study={study} where={where} />}
        <main id="place" tabIndex={-1}>
          {children}
        </main>
      </div>
      <footer className="foot">
        <a href={pathTo({ page: 'method', name: null })}>How it is computed, and when it deceives</a>
        <a href="/">{all}</a>
      </footer>
      <Notices />
    </div>
  );
}

/** Pages beside any study, which are mostly opened from one. */
const BESIDE: readonly Where['page'][] = ['liquids', 'network', 'method', 'people', 'account'];

function BackToStudy() {
  const last = lastStudy();
  const study = useScoresAlone() ? null : last;
  const name = useQuery({ ...studyQuery(study ?? ''), enabled: study !== null }).data?.name;
  return study !== null && name ? (
    <a className="top-back" href={pathTo({ page: 'stands', study })}>
      <Icon name="back" size={20} /> <span>{name}</span>
    </a>
  ) : null;
}

function ThemeButton() {
  const theme = useTheme();
  const other = theme === 'dark' ? 'light' : 'dark';
  return (
    <button
      type="button"
      className="button quiet theme"
      aria-label={other === 'dark' ? 'Dark page' : 'Light page'}
      onClick={() => chooseTheme(other)}
    >
      <Icon name={other} />
    </button>
  );
}

/** Work in the background, marks that wait, and a program that does not answer. */
function TopState() {
  const here = usePresence();
  const waiting = useOutbox().length;
  const queue = useQueue();
  const busy = queue.waiting + queue.searching;
  return (
    <p className={here ? 'top-state' : 'top-state away'} role="status">
      {here
        ? waiting > 1
          ? `Keeping ${many(waiting, 'mark')} …`
          : busy > 0
            ? `Searching ${many(busy, 'photograph')} …`
            : ''
        : `The program does not answer. What you see stays${
            waiting > 0 ? `, and ${many(waiting, 'mark')} wait${waiting === 1 ? 's' : ''} here` : ''
          }; work goes on when it is back.`}
    </p>
  );
}

function Invented({ study }: { study: string | null }) {
  const laboratory = useQuery(laboratoryQuery).data;
  const own = useQuery({ ...studyQuery(study ?? ''), enabled: study !== null }).data;
  if (!(own?.demonstration ?? laboratory?.demonstration)) return null;
  return (
    <aside className="invented" aria-label="About this example">
      <strong>Invented example.</strong> Everything here was made up and drawn by the program; nothing was
      measured.
    </aside>
  );
}
