import type { CountingInput } from '../counting-input.ts';
import type { SeenRun } from '../joint/group-rate.ts';
import type { NetInput } from '../joint/net-input.ts';

/** A virtual study as the counting room takes it. */
export const asCounts = (study: Omit<NetInput, 'confidence'>, confidence: number): CountingInput => ({
  portions: study.specimens.map((run, i) => ({ ...run, name: `specimen run ${i + 1}` })),
  controls: study.controls.map((run, i) => ({ ...run, name: `control ${i + 1}`, kind: 'virtual' })),
  recovery:
    study.spikes.length === 0
      ? null
      : {
          found: study.spikes.reduce((sum, s) => sum + s.found, 0),
          added: study.spikes.reduce((sum, s) => sum + s.added, 0),
        },
  spikes: study.spikes,
  ...(study.history ? { history: study.history } : {}),
  drill: study.drill ?? null,
  confirmation: study.confirmation ?? null,
  confidence,
});

/** Mean of counts per whole run, and the variance of that mean: counting at least, and half a piece where none was found. */
export function meanOf(runs: NetInput['controls']): { mean: number; variance: number } {
  const n = runs.length;
  const rates = runs.map((r) => r.count / (r.passed * r.examined));
  const mean = rates.reduce((s, x) => s + x, 0) / n;
  const spread = n > 1 ? rates.reduce((s, x) => s + (x - mean) ** 2, 0) / (n - 1) : mean;
  return { mean, variance: (Math.max(spread, mean) + 0.5 / n) / n };
}

export const asSeen = (runs: NetInput['controls']): SeenRun[] =>
  runs.map((r) => ({ count: r.count, fraction: r.passed * r.examined }));
