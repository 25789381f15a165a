import { useCallback } from 'react';
import type { ClaimDetailsJson, LookedJson } from '../../api/index.ts';
import { falseFindsWords, lookedShares, percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section } from '../look/parts.tsx';
import { countWords } from '../look/words.ts';
import { WhereFrom } from './where-from.tsx';

/** Passed × photographed × counted of every run that is judged, so that what was not looked at never reads as none. */
export function WhatWasLookedAt({ details }: { details: ClaimDetailsJson }) {
  const { study, looked } = details;
  const judged = looked.filter((run) => run.side === 'specimens' || run.side === 'controls');
  const draw = useCallback(
    (width: number) =>
      lookedShares({
        runs: judged.map((run) => ({
          name: run.name,
          href: pathTo({ page: 'runs', study, item: run.run }),
          passed: run.passed,
          examined: run.examined,
          count: countWords(run.count),
        })),
        width,
        name: 'looked',
      }),
    [study, judged],
  );
  if (judged.length === 0) return null;
  const without = judged.filter((run) => run.passed === null && run.examined !== null);
  const undecided = judged.reduce((sum, run) => sum + run.undecided, 0);
  return (
    <Section
      title="What was looked at"
      lead="Each bar is the whole of one run. Only the filled part was counted; the rest is not known, which is not the same as none."
    >
      <figure className="picture">
        <Drawing draw={draw} />
        <figcaption>
          <span className="key">
            <i className="dot bar-counted" /> passed and photographed
          </span>
          <span className="key">
            <i className="dot bar-hatched" /> on the filter, not photographed
          </span>
          <span className="key">
            <i className="dot bar-empty" /> never on a filter that was looked at
          </span>
        </figcaption>
      </figure>
      <WhereFrom
        study={study}
        formula="Stands for = share of the liquid that passed × share of the filter photographed. The count is divided by it, never a nought put in its place. Its uncertainty is in the interval: volumes to 1 % or 0.5 mL, the wetted diameter to 0.3 mm (common practice, no source), the scale as the photograph gives it, and how unevenly pieces lie over the squares."
        source="Relative uncertainties added in squares: JCGM 100:2008 (GUM), 5.1.2; finite sample of squares: Cochran 1977, §2.8."
        method="counting-model"
        deceives="the kept remainder is not of the same make as what passed: coarse pieces settle; or a cylinder or ruler is wrong alike for all runs, for runs are taken as independent."
      >
        <Floors runs={judged} />
        {details.false_finds.map(({ asked, photographs, own }) => (
          <p key={`${asked} ${own !== null}`}>{falseFindsWords(asked, photographs, own)}</p>
        ))}
        {without.length > 0 ? (
          <p>
            Of {without.map((run) => run.name).join(', ')} it is not recorded how much passed; all of it is
            taken to have.
          </p>
        ) : null}
        {undecided > 0 ? (
          <p>
            {undecided} pieces were found by the program and looked at by nobody yet; they are in the count.
          </p>
        ) : null}
        <Table runs={judged} />
        <Shares runs={judged} />
      </WhereFrom>
    </Section>
  );
}

function Floors({ runs }: { runs: readonly LookedJson[] }) {
  const floors = runs.flatMap((run) => run.floor_um ?? []);
  if (floors.length === 0) return <p>How small a piece these optics show was not determined.</p>;
  return (
    <p>Pieces below {Math.round(Math.max(...floors))} µm could not have been seen on every photograph.</p>
  );
}

/** How well the shares are known, of the runs of which not all is known exactly. */
function Shares({ runs }: { runs: readonly LookedJson[] }) {
  const told = runs.flatMap((run) => {
    const words = run.uncertainty && knownTo(run.uncertainty);
    return words ? [`${run.name}: ${words}`] : [];
  });
  if (told.length === 0) return <p>The share of every run is known exactly: all of it was looked at.</p>;
  return (
    <>
      <p>How well the share is known, relative standard uncertainty; of the other runs all was looked at.</p>
      <ul className="reasons">
        {told.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}

/** Part by part; what there is nothing to tell from is named. Null: all of it was looked at. */
function knownTo({ passed, photographed, counted, together }: Uncertainty): string | null {
  const parts = [
    ['volumes', passed],
    ['area', photographed],
    ['spread over the squares', counted],
  ] as const;
  const known = parts.flatMap(([name, share]) => (share ? [`${name} ${percent(share)}`] : []));
  const unknown = parts.flatMap(([name, share]) => (share === null ? [name] : []));
  const said = together > 0 ? `± ${percent(together)} (${known.join(', ')})` : '';
  const lacking = unknown.length > 0 ? `not known: ${unknown.join(', ')}` : '';
  return [said, lacking].filter((words) => words !== '').join('; ') || null;
}
type Uncertainty = NonNullable<LookedJson['uncertainty']>;

function Table({ runs }: { runs: readonly LookedJson[] }) {
  const share = (n: number | null, none: string) => (n === null ? none : percent(n));
  return (
    <table className="ways-table names">
      <thead>
        <tr>
          <th scope="col">Run</th>
          <th scope="col">Passed</th>
          <th scope="col">Photographed</th>
          <th scope="col">Kept, undecided, dropped</th>
        </tr>
      </thead>
      <tbody>
        {runs.map((run) => (
          <tr key={run.run}>
            <th scope="row">{run.name}</th>
            <td>{share(run.passed, run.examined === null ? 'not looked' : 'not recorded')}</td>
            <td>{share(run.examined, 'not looked')}</td>
            <td>{run.examined === null ? 'not looked' : `${run.kept}, ${run.undecided}, ${run.dropped}`}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
