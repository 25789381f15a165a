import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { FilterJson, PhotoJson } from '../../api/index.ts';
import { figure } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Fact, Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { KIND_WORDS, lengthWords, many, shareWords, withinWords } from '../look/words.ts';
import { CountMark } from '../runs/count-mark.tsx';
import { addressOf } from '../server/ask.ts';
import { usePhotoProgress } from '../server/progress.ts';
import { filtersQuery, placesQuery } from '../server/queries.ts';
import { BringInZone } from './bring-in-zone.tsx';
import { Disc, DiscKey } from './disc.tsx';
import { PhotoMove } from './photo-move.tsx';
import { PhotoPlace } from './photo-place.tsx';
import { SearchStop } from './search-stop.tsx';
import { SquareBySquare } from './square-by-square.tsx';
import { allPlaced, discOf, isHidden } from './squares.ts';
import { Together } from './together.tsx';

/** One filter: its disc, its photographs, and the way in for more. */
export function FilterPage({ study, filter: id }: { study: string; filter: string }) {
  const { data, error, refetch } = useQuery(filtersQuery(study));
  const said = useQuery(placesQuery(study)).data?.places;
  const places = useMemo(
    () => new Map((said ?? []).map(({ photo, square }) => [photo, square] as const)),
    [said],
  );
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the filter" />;
  const filter = data.filters.find((one) => one.id === id);
  if (!filter) {
    return (
      <div className="page">
        <PlaceHead title="Filter" lead="This study has no filter with that address." />
        <a className="button" href={pathTo({ page: 'filters', study, item: null })}>
          All filters of the study
        </a>
      </div>
    );
  }
  return (
    <div className="page filter-page">
      <p className="back">
        <a href={pathTo({ page: 'filters', study, item: null })}>
          <Icon name="back" size={20} /> All filters
        </a>
      </p>
      <PlaceHead
        title={filter.name}
        lead={
          <>
            From <a href={pathTo({ page: 'runs', study, item: filter.run.id })}>{filter.run.name}</a>,{' '}
            {KIND_WORDS[filter.run.kind]}.
          </>
        }
      />
      <SearchStop study={study} filters={data.filters} />
      <div className="filter-body">
        <div className="filter-disc">
          <Disc filter={filter} most={340} places={places} />
          <DiscKey />
          {filter.examined > 0 && filter.examined < 1 && !allPlaced(filter, places) ? (
            <p className="fine">
              Nobody has said yet where on the disc each photograph was taken: squares fill from the top, so
              shares are true and places are not.
            </p>
          ) : null}
        </div>
        <div>
          <FilterFacts filter={filter} />
          <Section title="Photographs">
            {filter.photos.length === 0 ? (
              <Nothing icon="photo" title="Nobody has looked at this filter yet">
                <p>
                  Its count is not zero, it is unknown. Bring in photographs of its squares: sharp, evenly
                  lit, with a printed square or two in view, so that the scale can be read.
                </p>
              </Nothing>
            ) : (
              <ul className="photos">
                {filter.photos.map((photo) => (
                  <li key={photo.id}>
                    <PhotoCard study={study} photo={photo} />
                    <PhotoPlace study={study} filter={filter} photo={photo} />
                    <PhotoMove study={study} filter={filter} photo={photo} />
                  </li>
                ))}
              </ul>
            )}
            <Together study={study} filter={filter} />
            <SquareBySquare study={study} filter={filter} places={places} />
            <BringInZone study={study} filter={filter.id} photos={filter.photos} />
          </Section>
        </div>
      </div>
    </div>
  );
}

function FilterFacts({ filter }: { filter: FilterJson }) {
  const disc = discOf(filter);
  return (
    <dl className="facts">
      <Fact
        name="Counted"
        value={<CountMark count={filter.count} hidden={isHidden(filter)} />}
        note={filter.count.state === 'counted' ? notAllCounted(filter, filter.count.count) : ''}
      />
      <Fact
        name="Examined"
        value={shareWords(filter.examined)}
        note={`of about ${figure(disc.total)} squares`}
      />
      <Fact
        name="Membrane"
        value={filter.material || 'not said'}
        note={[
          filter.pore_um === null ? '' : `pore ${figure(filter.pore_um)} µm`,
          filter.pitch_mm === null ? 'no print' : `squares of ${figure(filter.pitch_mm)} mm`,
          filter.lot ? `lot ${filter.lot}` : '',
        ]
          .filter(Boolean)
          .join(', ')}
      />
    </dl>
  );
}

/** Pieces on the photographs that are not dropped and yet not in the count; those that count on another photograph are said apart. */
function notAllCounted({ photos, together, scope }: FilterJson, count: number): string {
  const found = photos.reduce((sum, photo) => sum + (photo.kept ?? 0) + (photo.undecided ?? 0), 0);
  return withinWords(count, found - (together?.seen_again ?? 0), scope);
}

function PhotoCard({ study, photo }: { study: string; photo: PhotoJson }) {
  const progress = usePhotoProgress(photo.id);
  const state = photo.state === 'waiting' && progress?.state === 'searching' ? 'searching' : photo.state;
  return (
    <a
      className={`photo-card is-${state}`}
      href={pathTo({ page: 'photo', study, filter: photo.filter, photo: photo.id })}
    >
      <img
        src={addressOf('tile', { photo: photo.id, level: 0, column: 0, row: 0 })}
        alt=""
        loading="lazy"
        width={photo.width_px}
        height={photo.height_px}
      />
      <span className="photo-name">{photo.name}</span>
      <span className="photo-says">
        {state === 'searched'
          ? (photo.kept ?? 0) + (photo.undecided ?? 0) === 0
            ? 'looked, none kept'
            : `${many((photo.kept ?? 0) + (photo.undecided ?? 0), 'particle')} not dropped`
          : state === 'refused'
            ? (photo.refusal?.message ?? 'could not be searched')
            : state === 'stopped'
              ? 'not searched; the search was stopped'
              : state === 'searching'
                ? `searching, ${Math.round((progress?.share ?? 0) * 100)} %`
                : 'waits to be searched'}
      </span>
      {photo.undecided ? (
        <span className="disc-undecided">{many(photo.undecided, 'particle')} to decide</span>
      ) : null}
      {state === 'searched' ? (
        <span className="photo-says">
          {photo.floor_um === null ? 'without a scale' : `searched from ${lengthWords(photo.floor_um)} up`}
        </span>
      ) : null}
      {photo.warnings.map((warning) => (
        <span className="warned" key={warning.why}>
          {warning.message}
        </span>
      ))}
    </a>
  );
}
