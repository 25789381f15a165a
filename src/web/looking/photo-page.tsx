import { useQuery } from '@tanstack/react-query';
import { useMemo, useRef, useState } from 'react';
import type { FilterJson, PhotoJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon, type IconName } from '../look/icons.tsx';
import { Failed, PlaceHead, Waiting } from '../look/parts.tsx';
import { countWords, lengthWords, many, unbroken, withinWords } from '../look/words.ts';
import { usePhotoProgress } from '../server/progress.ts';
import { filtersQuery, standingQuery } from '../server/queries.ts';
import { ChosenParticle } from './chosen-particle.tsx';
import { ORDERS, type Order, type Stands, standsAs } from './deciding.ts';
import { HandBar, HandSays } from './hand-bar.tsx';
import { SHAPE_NAMES } from './names.ts';
import { outlineOf } from './outlines.ts';
import { Strip } from './strip.tsx';
import { type Deciding, useDeciding } from './use-deciding.ts';
import { useHand } from './use-hand.ts';
import { type Keys, useKeys } from './use-keys.ts';
import { Viewer, type ViewerHandle } from './viewer.tsx';

/** Looking: the photograph, its particles, a decision on each, and the claim following every decision. */
export function PhotoPage({ study, filter, photo: id }: { study: string; filter: string; photo: string }) {
  const filters = useQuery(filtersQuery(study));
  const own = filters.data?.filters.find((one) => one.id === filter);
  const photo = own?.photos.find((one) => one.id === id);
  if (filters.error && !filters.data) {
    return <Failed error={filters.error} again={() => void filters.refetch()} />;
  }
  if (!filters.data) return <Waiting what="the photograph" />;
  if (!own || !photo) {
    return (
      <div className="page">
        <PlaceHead title="Photograph" lead="This filter has no photograph with that address." />
        <a className="button" href={pathTo({ page: 'filters', study, item: null })}>
          All filters of the study
        </a>
      </div>
    );
  }
  const k = own.photos.indexOf(photo);
  return (
    <Looking
      study={study}
      photo={photo}
      counted={own}
      before={own.photos[k - 1]?.id ?? null}
      after={own.photos[k + 1]?.id ?? null}
    />
  );
}

interface LookingProps {
  readonly study: string;
  readonly photo: PhotoJson;
  readonly counted: FilterJson;
  readonly before: string | null;
  readonly after: string | null;
}

function Looking({ study, photo, counted, before, after }: LookingProps) {
  const viewer = useRef<ViewerHandle>(null);
  const [tools, setTools] = useState(false);
  const [whole, setWhole] = useState(false);
  const deciding = useDeciding(study, photo, (id) => viewer.current?.show(id));
  const claim = useQuery(standingQuery(study)).data?.claim;
  const { row, at, also, choose, step, decide, undo } = deciding;
  const outlines = useMemo(() => row.map(outlineOf), [row]);
  const particle = row[at] ?? null;
  const hand = useHand(study, photo, particle);
  const chosen = useMemo(() => ({ id: particle?.id ?? null, also }), [particle?.id, also]);
  const crosshair = (dx: number, dy: number) => () => {
    const sight = viewer.current?.sight();
    if (sight) hand.move(dx * sight.perScreenPx, dy * sight.perScreenPx, sight.middle);
  };
  const drawing: Keys = [
    ['Escape', hand.leave],
    [' ', hand.corner],
    ['Enter', hand.close],
    ['Backspace', hand.back],
    ['ArrowRight', crosshair(8, 0)],
    ['ArrowLeft', crosshair(-8, 0)],
    ['ArrowDown', crosshair(0, 8)],
    ['ArrowUp', crosshair(0, -8)],
    ['Shift+ArrowRight', crosshair(48, 0)],
    ['Shift+ArrowLeft', crosshair(-48, 0)],
    ['Shift+ArrowDown', crosshair(0, 48)],
    ['Shift+ArrowUp', crosshair(0, -48)],
  ];
  const undoNow = () => void undo();
  const closer = () => viewer.current?.zoomBy(1.5);
  useKeys([
    ...(hand.sketch ? drawing : []),
    ['c', () => hand.take('cut')],
    ['r', () => hand.take('redraw')],
    ['n', () => hand.take('draw')],
    ['m', () => hand.take('measure')],
    ['s', deciding.part],
    ['j', deciding.join],
    ...SHAPE_NAMES.map((shape, k): Keys[number] => [String(k + 1), () => deciding.rename({ shape })]),
    ['Shift+ArrowRight', () => step(1, true)],
    ['Shift+ArrowLeft', () => step(-1, true)],
    ['k', () => decide('keep')],
    ['d', () => decide('drop')],
    ['u', undoNow],
    ['Ctrl+z', undoNow],
    ['ArrowRight', () => step(1)],
    ['ArrowLeft', () => step(-1)],
    ['Home', () => step(-row.length)],
    ['End', () => step(row.length)],
    ['z', () => particle && viewer.current?.closeUp(particle.id)],
    ['+', closer],
    ['=', closer],
    ['-', () => viewer.current?.zoomBy(1 / 1.5)],
    ['0', () => viewer.current?.whole()],
  ]);
  return (
    <div className="looking">
      <header className="looking-head">
        <a className="button quiet" href={pathTo({ page: 'filters', study, item: photo.filter })}>
          <Icon name="back" size={20} /> Filter
        </a>
        <h1>{photo.name}</h1>
        <p className="looking-facts">
          {photo.scale
            ? `${photo.scale.um_per_px.toFixed(2)} µm a pixel, searched from ${lengthWords(photo.floor_um)} up`
            : 'without a scale: sizes in pixels'}
        </p>
        <span className="looking-ways">
          <a
            className="button quiet"
            aria-label="Beside another photograph"
            title="Beside another photograph"
            href={pathTo({ page: 'beside', study, photos: [photo.id, null] })}
          >
            <Icon name="beside" />
          </a>
          <PhotoLink study={study} photo={photo} to={before} name="Photograph before" icon="previous" />
          <PhotoLink study={study} photo={photo} to={after} name="Photograph after" icon="next" />
        </span>
      </header>
      <p className={whole ? 'looking-claim is-whole' : 'looking-claim'} aria-live="polite">
        <strong>{inWords(counted, deciding.more)}</strong>
        <span>{unbroken(claim?.sentence ?? '')}</span>{' '}
        <button
          type="button"
          className="button quiet claim-fold"
          aria-expanded={whole}
          aria-label={whole ? 'Fold the claim' : 'The whole claim'}
          onClick={() => setWhole(!whole)}
        >
          <Icon name="next" size={20} />
        </button>
        <a href={pathTo({ page: 'claim', study, item: null })}>Claim</a>
      </p>
      <div className="looking-body">
        <div className="looking-picture">
          <Viewer
            photo={photo}
            outlines={outlines}
            chosen={chosen}
            onChoose={choose}
            hand={hand}
            handle={viewer}
          />
          <button
            type="button"
            className="button tools-fold"
            aria-expanded={tools}
            onClick={() => setTools(!tools)}
          >
            <Icon name="redraw" /> <span>{tools ? 'Fold the tools' : 'Tools'}</span>
          </button>
          <HandBar
            folded={!tools}
            hand={hand}
            onPart={deciding.part}
            onJoin={deciding.join}
            many={particle === null ? 0 : 1 + also.size}
          />
          <HandSays hand={hand} />
          <fieldset className="zoom">
            <legend className="unseen">Zoom</legend>
            <Press name="Closer" icon="zoomIn" press={closer} />
            <Press name="Farther" icon="zoomOut" press={() => viewer.current?.zoomBy(1 / 1.5)} />
            <Press name="Whole photograph" icon="whole" press={() => viewer.current?.whole()} />
          </fieldset>
          <OnTop photo={photo} />
        </div>
        <ChosenParticle
          study={study}
          photo={photo}
          particle={particle}
          place={particle === null ? null : `${at + 1} of ${row.length}`}
          more={also.size}
          onRename={deciding.rename}
          onKeep={() => decide('keep')}
          onDrop={() => decide('drop')}
          onUndo={undoNow}
          onStep={step}
        />
      </div>
      <Below photo={photo} scope={counted.scope} deciding={deciding} />
    </div>
  );
}

/** The run and its count, with the marks that have not arrived yet. */
const inWords = ({ run, count }: FilterJson, more: number): string =>
  `${run.name}: ${countWords(count.state === 'counted' ? { ...count, count: Math.max(0, count.count + more) } : count)}`;

/** What must be known before trusting the picture: that it was refused, or is still being searched. */
function OnTop({ photo }: { photo: PhotoJson }) {
  const progress = usePhotoProgress(photo.id);
  if (photo.refusal) return <p className="looking-refusal">{photo.refusal.message}</p>;
  if (photo.state !== 'waiting' && photo.state !== 'searching') return null;
  return (
    <p className="looking-refusal" role="status">
      Being searched{progress ? `, ${Math.round(progress.share * 100)} %` : ''}; particles appear here when it
      is done.
    </p>
  );
}

interface BelowProps {
  readonly photo: PhotoJson;
  readonly scope: FilterJson['scope'];
  readonly deciding: Deciding;
}

function Below({ photo, scope, deciding }: BelowProps) {
  const { row, at, also, read, order, sort, choose } = deciding;
  const of = (stands: Stands) => row.filter((one) => standsAs(one) === stands).length;
  const again = of('again');
  const standing = row.filter((one) => ['kept', 'undecided'].includes(standsAs(one)));
  const within = withinWords(standing.filter((one) => one.counts).length, standing.length, scope);
  return (
    <div className="looking-strip">
      <div className="strip-head">
        <p role="status">
          {!read
            ? 'Reading the particles …'
            : photo.state === 'searched'
              ? `${many(row.length, 'particle')} found: ${of('kept')} kept, ${of('dropped')} dropped, ${of('undecided')} undecided${again > 0 ? `, ${again} counted on another photograph` : ''}${within && `; ${within}`}`
              : 'Not looked at yet.'}
        </p>
        <label>
          Sorted{' '}
          <select value={order} onChange={(event) => sort(event.target.value as Order)}>
            {(Object.keys(ORDERS) as Order[]).map((one) => (
              <option key={one} value={one}>
                {ORDERS[one]}
              </option>
            ))}
          </select>
        </label>
      </div>
      {row.length > 0 ? (
        <Strip photo={photo} particles={row} chosen={row[at]?.id ?? null} also={also} onChoose={choose} />
      ) : null}
      {read && row.length === 0 && photo.state === 'searched' ? (
        <p className="strip-none">Looked at, none seen from {lengthWords(photo.floor_um)} up.</p>
      ) : null}
      <p className="keys">
        <kbd>K</kbd> keep <kbd>D</kbd> drop <kbd>←</kbd> <kbd>→</kbd> previous, next <kbd>U</kbd> or{' '}
        <kbd>Ctrl Z</kbd> undo <kbd>Z</kbd> close-up <kbd>+</kbd> <kbd>−</kbd> <kbd>0</kbd> closer, farther,
        whole <kbd>1</kbd>–<kbd>5</kbd> {SHAPE_NAMES.join(', ')} <kbd>Shift</kbd> with a click or an arrow:
        choose several
      </p>
    </div>
  );
}

interface PhotoLinkProps {
  readonly study: string;
  readonly photo: PhotoJson;
  readonly to: string | null;
  readonly name: string;
  readonly icon: IconName;
}

function PhotoLink({ study, photo, to, name, icon }: PhotoLinkProps) {
  if (to === null) return null;
  const href = pathTo({ page: 'photo', study, filter: photo.filter, photo: to });
  return (
    <a className="button quiet" aria-label={name} href={href}>
      <Icon name={icon} />
    </a>
  );
}

function Press({ name, icon, press }: { name: string; icon: IconName; press: () => void }) {
  return (
    <button type="button" className="button" aria-label={name} onClick={press}>
      <Icon name={icon} />
    </button>
  );
}
