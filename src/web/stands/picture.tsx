import { useCallback, useMemo } from 'react';
import type { ClaimJson, RunJson, StandingJson } from '../../api/index.ts';
import { netInterval, type RunDot, runsAgainstBackground } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Drawing } from '../look/drawing.tsx';
import { KIND_WORDS, upper, wholeRun } from '../look/words.ts';
import { readBackground, readThresholds } from './reading-claim.ts';

interface RunsPictureProps {
  readonly study: string;
  readonly runs: readonly RunJson[];
  readonly claim: ClaimJson;
}

/**
 * Dots of runs against the background band, one strip for each specimen and each kind of control. Spiked runs are not
 * among them: their pieces were put in, and what came back of those is the recovery, on the place of the evidence.
 */
export function RunsPicture({ study, runs: all, claim }: RunsPictureProps) {
  const runs = useMemo(() => all.filter((run) => run.kind !== 'spiked-run'), [all]);
  const draw = useCallback(
    (width: number) => {
      const { perRun } = readBackground(claim);
      return runsAgainstBackground({
        runs: inOrder(runs).map((run) => dotOf(study, run)),
        background: perRun && { expected: perRun.value, lower: perRun.lower, upper: perRun.upper },
        threshold: readThresholds(claim).perRun,
        means: meansOf(runs),
        unit: 'particles in the whole run',
        width,
        name: 'runs-picture',
      });
    },
    [study, runs, claim],
  );
  const aside = runs.some((run) => isControl(run) && !run.background_from);
  // The key names what is drawn, and nothing that is not.
  const band = readBackground(claim).perRun !== null;
  const threshold = readThresholds(claim).perRun !== null;
  return (
    <figure className="picture">
      <Drawing draw={draw} />
      <figcaption>
        <Key dot="specimen">specimen run</Key>
        <Key dot="mean">their mean</Key>
        <Key dot="control">control in the background</Key>
        {aside ? <Key dot="aside">beside it, or left out</Key> : null}
        {band ? (
          <Key dot="band" narrow>
            background
          </Key>
        ) : null}
        {threshold ? (
          <Key dot="threshold" narrow>
            a mean stands out from here
          </Key>
        ) : null}
      </figcaption>
    </figure>
  );
}

function Key({ dot, narrow = false, children }: { dot: string; narrow?: boolean; children: string }) {
  return (
    <span className={narrow ? 'key only-narrow' : 'key'}>
      <i className={`dot ${dot}`} /> {children}
    </span>
  );
}

const isControl = (run: RunJson) => run.kind !== 'specimen-run';
const groupOf = (run: RunJson) =>
  run.kind === 'specimen-run' ? (run.specimen ?? 'Specimen runs') : upper(KIND_WORDS[run.kind]);

const dotOf = (study: string, run: RunJson): RunDot => ({
  name: run.name,
  group: groupOf(run),
  kind: run.kind === 'specimen-run' ? 'specimen' : 'control',
  found: wholeRun(run),
  counts: isControl(run) ? run.background_from : run.judged,
  ...(run.count.state === 'not-looked'
    ? { because: 'nobody has looked yet' }
    : run.judged
      ? {}
      : { because: 'no control matches it' }),
  href: pathTo({ page: 'runs', study, item: run.id }),
});

/** Mean of each specimen: all that was counted over all that was looked at, as the claim reckons it. */
function meansOf(runs: readonly RunJson[]): ReadonlyMap<string, number> {
  const sums = new Map<string, { count: number; effort: number }>();
  for (const run of runs) {
    if (run.kind !== 'specimen-run' || !run.judged || run.count.state === 'not-looked') continue;
    const sum = sums.get(groupOf(run)) ?? { count: 0, effort: 0 };
    sums.set(groupOf(run), {
      count: sum.count + run.count.count,
      effort: sum.effort + run.passed * run.examined,
    });
  }
  return new Map(
    [...sums].flatMap(([group, { count, effort }]) => (effort > 0 ? [[group, count / effort]] : [])),
  );
}

const inOrder = (runs: readonly RunJson[]): readonly RunJson[] => {
  const rank = (run: RunJson) => (run.kind === 'specimen-run' ? 0 : run.background_from ? 1 : 2);
  return [...runs].sort((a, b) => rank(a) - rank(b));
};

/** The net result of each specimen with its interval, the product asked about first. */
export function NetPicture({ standing }: { standing: StandingJson }) {
  const { claim, specimen, comparisons } = standing;
  const draw = useCallback(
    (width: number) => {
      const row = (label: string, of: ClaimJson, main: boolean) =>
        of.net_per_gram === null
          ? []
          : [
              {
                label,
                value: of.net_per_gram.value,
                lower: of.net_per_gram.lower,
                upper: of.net_per_gram.upper,
                main,
              },
            ];
      return netInterval({
        rows: [
          ...row(specimen?.name ?? 'This claim', claim, true),
          ...comparisons.flatMap((other) => row(other.specimen.name, other.claim, false)),
        ],
        unit: 'particles per gram, net of background',
        confidence: claim.net_per_gram?.confidence ?? 0.95,
        detectable: null,
        width,
        name: 'net-picture',
      });
    },
    [claim, specimen, comparisons],
  );
  if (claim.net_per_gram === null) return null;
  return (
    <figure className="picture">
      <Drawing draw={draw} />
    </figure>
  );
}
