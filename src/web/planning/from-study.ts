/** What a study already knows, as the first guess of a plan. */
import type { StandingJson } from '../../api/index.ts';
import { readBackground } from '../stands/reading-claim.ts';

/** Everything that can be set on the planning page; shares in percent, as people say them. */
export interface Guess {
  readonly background: number;
  readonly scatter: number;
  readonly release: number;
  readonly portion: number;
  readonly recovery: number;
  readonly looked: number;
  readonly hours: number;
  readonly perRun: number;
  readonly perControl: number;
  readonly perSpike: number;
  readonly runs: number;
  readonly controls: number;
  readonly spikes: number;
}

export const FIRST_GUESS: Guess = {
  background: 5,
  scatter: 40,
  release: 10,
  portion: 1,
  recovery: 80,
  looked: 100,
  hours: 50,
  perRun: 3,
  perControl: 2.5,
  perSpike: 3,
  runs: 6,
  controls: 6,
  spikes: 3,
};

const rounded = (n: number): number => Number(n.toPrecision(2));
const mean = (list: readonly number[]): number => list.reduce((sum, x) => sum + x, 0) / list.length;

/** Background, scatter, recovery, portions and runs as counted so far; what was not counted stays a guess. */
export function guessFrom(standing: StandingJson | undefined): Guess {
  if (!standing) return FIRST_GUESS;
  const { claim, points } = standing;
  const { perRun, recovery } = readBackground(claim);
  const scatter = claim.joint?.scatter.controls.value;
  const mine = points.filter((point) => point.kind === 'specimen-run' && point.count.state === 'counted');
  const masses = mine.flatMap((point) => point.mass_g ?? []);
  const portion = masses.length > 0 ? mean(masses) : FIRST_GUESS.portion;
  const counted = (wanted: (kind: string, serves: boolean) => boolean) =>
    points.filter((point) => point.count.state === 'counted' && wanted(point.kind, point.background_from))
      .length;
  const net = claim.net_per_gram?.value ?? 0;
  return {
    ...FIRST_GUESS,
    background: perRun ? rounded(perRun.value) : FIRST_GUESS.background,
    scatter: scatter === undefined ? FIRST_GUESS.scatter : Math.min(150, Math.round(100 * scatter)),
    // as much again as the background, where nothing was released so far
    release: rounded(net > 0 ? net : Math.max(1, perRun?.value ?? FIRST_GUESS.background) / portion),
    portion: rounded(portion),
    recovery: recovery ? Math.round(100 * recovery.value) : FIRST_GUESS.recovery,
    looked:
      mine.length > 0
        ? Math.max(1, Math.round(100 * mean(mine.map((p) => p.passed * p.examined))))
        : FIRST_GUESS.looked,
    runs: counted((kind) => kind === 'specimen-run') || FIRST_GUESS.runs,
    controls: counted((_, serves) => serves) || FIRST_GUESS.controls,
    spikes: counted((kind) => kind === 'spiked-run'),
  };
}
