import { useQuery } from '@tanstack/react-query';
import type { StandingJson } from '../../api/index.ts';
import { Icon } from '../look/icons.tsx';
import { many } from '../look/words.ts';
import { filtersQuery, runsQuery, standingQuery } from '../server/queries.ts';
import { PLACES, type Place, pathTo, type Where } from './where.ts';

const NAMES: { readonly [P in Place]: string } = {
  question: 'Question',
  procedure: 'Procedure',
  runs: 'Runs',
  filters: 'Filters',
  evidence: 'Evidence',
  claim: 'Claim',
};

/**
 * The course of a study, top to bottom as the liquid runs: six places on one line, each with what is there and a sign
 * where something holds the claim back. On a telephone it is the bar along the bottom.
 */
export function Course({ study, where }: { study: string; where: Where }) {
  const standing = useQuery(standingQuery(study)).data;
  const runs = useQuery(runsQuery(study)).data?.runs;
  const filters = useQuery(filtersQuery(study)).data?.filters;
  const current =
    where.page === 'photo'
      ? 'filters'
      : where.page === 'bench' || where.page === 'labels'
        ? 'runs'
        : where.page === 'reach'
          ? 'question'
          : where.page;
  const photos = filters?.reduce((sum, filter) => sum + filter.photos.length, 0);
  const specimens = runs?.filter((run) => run.kind === 'specimen-run').length;
  const tests = standing?.claim.tests.length;
  const says: { readonly [P in Place]?: string | undefined } = {
    runs: runs && `${many(specimens ?? 0, 'run')}, ${many(runs.length - (specimens ?? 0), 'control')}`,
    filters: filters && `${many(filters.length, 'filter')}, ${many(photos ?? 0, 'photograph')}`,
    evidence:
      tests === undefined
        ? undefined
        : tests === 0
          ? 'no comparison with controls'
          : `${many(tests, 'comparison')} with controls`,
  };
  return (
    <nav className="course" aria-label="Places of the study">
      <a
        className="course-stands"
        href={pathTo({ page: 'stands', study })}
        aria-current={current === 'stands' ? 'page' : undefined}
      >
        <Icon name="stands" />
        <span>Where it stands</span>
      </a>
      <ol>
        {PLACES.map((place) => {
          const held = heldAt(standing, place);
          return (
            <li key={place}>
              <a
                href={pathTo({ page: place, study, item: null })}
                aria-current={current === place ? 'page' : undefined}
                className={held > 0 ? 'holds-back' : undefined}
              >
                <Icon name={place} />
                <span className="course-name">{NAMES[place]}</span>
                {says[place] ? <span className="course-says">{says[place]}</span> : null}
                {held > 0 ? (
                  <span className="course-held">{held === 1 ? '1 to mend' : `${held} to mend`}</span>
                ) : null}
              </a>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

const heldAt = (standing: StandingJson | undefined, place: Place): number =>
  standing?.held_back.filter((held) => held.place === place).length ?? 0;
