import { useCallback } from 'react';
import type { ClaimJson, RunJson } from '../../api/index.ts';
import { netInterval, runsAgainstBackground } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Drawing } from '../look/drawing.tsx';
import { KIND_WORDS, wholeRun } from '../look/words.ts';
import { readBackground, readComparison } from './reading-claim.ts';

/** Dots of runs against the background band, one strip for each specimen and each kind of control. */
export function RunsPicture({
  study,
  runs,
  claim,
}: {
  study: string;
  runs: readonly RunJson[];
  claim: ClaimJson;
}) {
  const draw = useCallback(
    (width: number) => {
      const { background, threshold } = readBackground(claim);
      return runsAgainstBackground({
        runs: inOrder(runs).map((run) => ({
          name: run.name,
          group:
            run.kind === 'specimen-run' ? (run.specimen ?? 'Specimen runs') : upper(KIND_WORDS[run.kind]),
          kind: run.kind === 'specimen-run' ? 'specimen' : run.kind === 'spiked-run' ? 'spiked' : 'control',
          found: wholeRun(run),
          counts: run.kind === 'specimen-run' || run.kind === 'spiked-run' || run.background_from,
          ...(run.count.state === 'not-looked' ? { because: 'nobody has looked yet' } : {}),
          href: pathTo({ page: 'runs', study, item: run.id }),
        })),
        background,
        threshold,
        unit: 'particles in the whole run',
        width,
        name: 'runs-picture',
      });
    },
    [study, runs, claim],
  );
  return (
    <figure className="picture">
      <Drawing draw={draw} />
      <figcaption>
        <span className="key">
          <i className="dot specimen" /> specimen run
        </span>
        <span className="key">
          <i className="dot control" /> control in the background
        </span>
        <span className="key">
          <i className="dot aside" /> control beside it
        </span>
        {runs.some((run) => run.kind === 'spiked-run') ? (
          <span className="key">
            <i className="dot spiked" /> spiked run
          </span>
        ) : null}
        <span className="key only-narrow">
          <i className="dot band" /> background
        </span>
        <span className="key only-narrow">
          <i className="dot threshold" /> stands out beyond
        </span>
      </figcaption>
    </figure>
  );
}

const upper = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

const inOrder = (runs: readonly RunJson[]): readonly RunJson[] => {
  const rank = (run: RunJson) =>
    run.kind === 'specimen-run' ? 0 : run.background_from ? 1 : run.kind === 'spiked-run' ? 3 : 2;
  return [...runs].sort((a, b) => rank(a) - rank(b));
};

/** The net result with its interval, alone or with the other published rules beside it. */
export function NetPicture({ claim, compared = false }: { claim: ClaimJson; compared?: boolean }) {
  const draw = useCallback(
    (width: number) => {
      const net = claim.net_per_gram!;
      return netInterval({
        rows: [
          { label: 'This claim', value: net.value, lower: net.lower, upper: net.upper, main: true },
          ...(compared ? readComparison(claim) : []),
        ],
        unit: 'particles per gram, net of background',
        confidence: net.confidence,
        detectable: null,
        width,
        name: compared ? 'net-compared' : 'net-picture',
      });
    },
    [claim, compared],
  );
  if (claim.net_per_gram === null) return null;
  return (
    <figure className="picture">
      <Drawing draw={draw} />
    </figure>
  );
}
