import { useState } from 'react';
import { newestStanding, SAFETY_FIRST } from '../../study/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Waiting } from '../look/parts.tsx';
import { KIND_WORDS, many, sessionWords } from '../look/words.ts';
import { usePresence } from '../server/presence.ts';
import { RunFoot } from './run-foot.tsx';
import { Stops } from './safety-here.tsx';
import { StepCard } from './step-card.tsx';
import { putAwayHeld } from './tap-box.ts';
import { type Bench, useBench } from './use-bench.ts';
import { undoWords } from './words.ts';

/** The run sheet: the step at hand, large; the others above and below it; every tap kept on the device first. */
export function BenchPage({ study, run }: { study: string; run: string }) {
  const { bench, error, again } = useBench(run);
  if (error && !bench) return <Failed error={error} again={again} />;
  if (!bench) return <Waiting what="the run sheet" />;
  return <Sheet study={study} bench={bench} />;
}

function Sheet({ study, bench }: { study: string; bench: Bench }) {
  const { sheet, here } = bench;
  const { steps, state } = here.sheet;
  const next = steps.find((line) => line.otherwise !== 'left-out' && line.state !== 'done');
  const [opened, setOpened] = useState<string | null>(null);
  const open = opened ?? next?.step.key ?? null;
  const number = new Map(
    steps.filter((line) => line.otherwise !== 'left-out').map((line, at) => [line.step.key, at + 1]),
  );
  return (
    <div className="page bench">
      <p className="back">
        <a href={pathTo({ page: 'runs', study, item: sheet.run.id })}>
          <Icon name="back" size={20} /> {sheet.run.name}
        </a>
      </p>
      <header className="bench-head">
        <h1>{sheet.run.name}</h1>
        <p>
          {sheet.run.kind === 'specimen-run' ? `On ${sheet.run.specimen}` : KIND_WORDS[sheet.run.kind]}
          {sheet.run.portion ? `, ${sheet.run.portion.mass_g} g` : ''} · {sheet.run.order}. in order,{' '}
          {sessionWords(sheet.run.session)} · <span className="short-code">{sheet.run.code}</span>
        </p>
      </header>
      <Kept bench={bench} />
      <Stops stops={here.stops} />
      {state === 'planned' ? (
        <div className="bench-begin">
          <p>
            {many(number.size, 'step')} of {sheet.edition.label}. Wash hands, cotton on, dish open.
          </p>
          <p className="fine">{SAFETY_FIRST}</p>
          <button type="button" className="button primary huge" onClick={() => bench.deed({ do: 'begin' })}>
            Begin the run
          </button>
        </div>
      ) : null}
      <ol className="bench-steps">
        {steps.map((line) => (
          <StepCard
            key={line.step.key}
            line={line}
            number={number.get(line.step.key) ?? null}
            open={state !== 'planned' && open === line.step.key}
            onOpen={() => setOpened(open === line.step.key ? '' : line.step.key)}
            onDone={() => setOpened(null)}
            bench={bench}
          />
        ))}
      </ol>
      <RunFoot study={study} bench={bench} allDone={next === undefined} />
      <Undo bench={bench} />
    </div>
  );
}

/** Where the taps are: with the laboratory, or still on this device. */
function Kept({ bench }: { bench: Bench }) {
  const here = usePresence();
  return (
    <div className="bench-kept" role="status">
      {bench.waiting > 0 ? (
        <p className="waits">
          {many(bench.waiting, 'tap')} {bench.waiting === 1 ? 'is' : 'are'} kept on this device
          {here ? ' and on the way.' : ' and will be sent when the laboratory answers.'}
        </p>
      ) : (
        <p>
          <Icon name="keep" size={20} /> All taps are with the laboratory.
        </p>
      )}
      {bench.lasting ? null : (
        <p className="warned">
          This browser forgets taps when the page is closed: keep it open, or leave private browsing.
        </p>
      )}
      {bench.held.length > 0 ? (
        <div className="warned">
          {bench.held.map((sentence) => (
            <p key={sentence}>Not kept by the laboratory: {sentence}</p>
          ))}
          <button type="button" className="button" onClick={() => void putAwayHeld()}>
            I have read it
          </button>
        </div>
      ) : null}
      {bench.here.sheet.problems.map((problem) => (
        <p className="warned" key={problem}>
          {problem}
        </p>
      ))}
    </div>
  );
}

function Undo({ bench }: { bench: Bench }) {
  const last = newestStanding(bench.taps);
  if (!last) return null;
  return (
    <div className="bench-undo">
      <button type="button" className="button" onClick={() => bench.deed({ do: 'undo', tap: last.id })}>
        <Icon name="undo" /> Undo: {undoWords(last.deed, bench.here)}
      </button>
    </div>
  );
}
