import { useQuery } from '@tanstack/react-query';
import { useMemo, useRef, useState } from 'react';
import type { FilterJson, PhotoJson } from '../../api/index.ts';
import { go, pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Nothing, PlaceHead, Waiting } from '../look/parts.tsx';
import { countWords, KIND_WORDS, lengthWords } from '../look/words.ts';
import { filtersQuery, particlesQuery } from '../server/queries.ts';
import { outlineOf } from './outlines.ts';
import { barOf, following, placeIn, startOf } from './together.ts';
import { type Sight, Viewer, type ViewerHandle } from './viewer.tsx';

type Two = readonly [string | null, string | null];
const NOBODY = { id: null, also: new Set<string>() };

/** Two photographs beside each other at the same scale: product and control, or one square before and after a test. */
export function BesidePage({ study, photos }: { study: string; photos: Two }) {
  const filters = useQuery(filtersQuery(study));
  if (filters.error && !filters.data) {
    return <Failed error={filters.error} again={() => void filters.refetch()} />;
  }
  if (!filters.data) return <Waiting what="the photographs" />;
  const all = filters.data.filters.filter((filter) => filter.photos.length > 0);
  if (all.length === 0) {
    return (
      <div className="page">
        <PlaceHead title="Beside each other" lead="Two photographs of filters at the same scale." />
        <Nothing icon="photo" title="No photograph yet">
          <p>
            Bring in photographs of a filter first; then any two of them can be looked at side by side.{' '}
            <a href={pathTo({ page: 'filters', study, item: null })}>All filters</a>
          </p>
        </Nothing>
      </div>
    );
  }
  return <Beside study={study} filters={all} photos={photos} />;
}

function Beside({ study, filters, photos }: { study: string; filters: readonly FilterJson[]; photos: Two }) {
  const every = filters.flatMap((filter) => filter.photos.map((photo) => ({ filter, photo })));
  const find = (id: string | null) => every.find((one) => one.photo.id === id);
  const left = find(photos[0]) ?? every[0]!;
  // A product's photograph is best seen against a control's.
  const isProduct = left.filter.run.kind === 'specimen-run';
  const right =
    find(photos[1]) ??
    every.find(({ filter }) => (filter.run.kind === 'specimen-run') !== isProduct) ??
    every[1] ??
    left;
  const [together, setTogether] = useState(true);
  const handles = [useRef<ViewerHandle>(null), useRef<ViewerHandle>(null)] as const;
  const last = useRef<[Sight | null, Sight | null]>([null, null]);
  const [shown, setShown] = useState<readonly [Sight | null, Sight | null]>([null, null]);
  const sides = [left, right] as const;
  const scaleOf = (photo: PhotoJson) => photo.scale?.um_per_px ?? null;

  /** The place that the address names, until either side has gone there once. */
  const start = useRef(startOf(placeIn(location.hash), [scaleOf(left.photo), scaleOf(right.photo)]));
  const moved = (side: 0 | 1) => (now: Sight) => {
    const first = start.current[side];
    if (first) {
      start.current[side] = null;
      last.current[side] = first;
      handles[side].current?.look(first);
      setShown([last.current[0], last.current[1]]);
      return;
    }
    const other = side === 0 ? 1 : 0;
    const before = last.current[side] ?? now;
    last.current[side] = now;
    const theirs = handles[other].current?.sight();
    if (together && theirs) {
      const next = following(before, now, theirs, [scaleOf(sides[side].photo), scaleOf(sides[other].photo)]);
      handles[other].current!.look(next);
      last.current[other] = next;
    }
    setShown([last.current[0], last.current[1]]);
  };
  const choose = (side: 0 | 1) => (photo: string) => {
    last.current = [null, null];
    const next: Two = side === 0 ? [photo, right.photo.id] : [left.photo.id, photo];
    go(pathTo({ page: 'beside', study, photos: next }), { replace: true });
  };
  const scaled = scaleOf(left.photo) !== null && scaleOf(right.photo) !== null;
  return (
    <div className="beside">
      <header className="looking-head">
        <a className="button quiet" href={pathTo({ page: 'filters', study, item: null })}>
          <Icon name="back" size={20} /> Filters
        </a>
        <h1>Beside each other</h1>
        <label className="beside-together">
          <input type="checkbox" checked={together} onChange={(e) => setTogether(e.target.checked)} /> Moved
          together
        </label>
        <p className="looking-facts" role="status">
          {scaled
            ? 'Both at the same scale.'
            : 'One of the two has no scale: pixels are shown alike, lengths cannot be compared.'}
        </p>
      </header>
      <div className="beside-two">
        {([0, 1] as const).map((side) => (
          <Side
            key={side}
            name={side === 0 ? 'Left' : 'Right'}
            study={study}
            filters={filters}
            chosen={sides[side]}
            sight={shown[side]}
            handle={handles[side]}
            onSight={moved(side)}
            onPhoto={choose(side)}
          />
        ))}
      </div>
    </div>
  );
}

interface SideProps {
  readonly name: string;
  readonly study: string;
  readonly filters: readonly FilterJson[];
  readonly chosen: { readonly filter: FilterJson; readonly photo: PhotoJson };
  readonly sight: Sight | null;
  readonly handle: React.RefObject<ViewerHandle | null>;
  readonly onSight: (sight: Sight) => void;
  readonly onPhoto: (id: string) => void;
}

function Side({ name, study, filters, chosen, sight, handle, onSight, onPhoto }: SideProps) {
  const { photo, filter } = chosen;
  const known = useQuery(particlesQuery(photo.id)).data?.particles;
  const outlines = useMemo(() => (known ?? []).map(outlineOf), [known]);
  const um = photo.scale?.um_per_px ?? null;
  const bar = um !== null && sight ? barOf(um * sight.perScreenPx, 140) : null;
  return (
    <section className="beside-side" aria-label={`${name} photograph`}>
      <label>
        <span className="unseen">{name} photograph</span>
        <select value={photo.id} onChange={(event) => onPhoto(event.target.value)}>
          {filters.map((one) => (
            <optgroup key={one.id} label={`${one.name} (${KIND_WORDS[one.run.kind]})`}>
              {one.photos.map((each) => (
                <option key={each.id} value={each.id}>
                  {each.name}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </label>
      <div className="beside-picture">
        <Viewer
          key={photo.id}
          photo={photo}
          outlines={outlines}
          chosen={NOBODY}
          onChoose={() => {}}
          hand={null}
          onSight={onSight}
          handle={handle}
        />
        {bar ? (
          <p className="scale-bar">
            <i style={{ inlineSize: `${bar.px}px` }} /> {lengthWords(bar.um)}
          </p>
        ) : null}
      </div>
      <p>
        <strong>{filter.run.name}</strong>, {KIND_WORDS[filter.run.kind]}: {countWords(filter.count)} on this
        filter.{' '}
        <a href={pathTo({ page: 'photo', study, filter: filter.id, photo: photo.id })}>Look and decide</a>
      </p>
    </section>
  );
}
