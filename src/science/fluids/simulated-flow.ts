import { type Chance, drawNormal } from '../maths/index.ts';
import { type BlockingLaw, timeFor, volumeAtFlow } from './blocking-laws.ts';
import { FULL_AT_FLOW } from './flow-forecast.ts';
import type { VolumeMark } from './volume-marks.ts';

export interface SimulatedFlow {
  readonly law: BlockingLaw;
  readonly capacityMl: number;
  readonly marks: readonly VolumeMark[];
}

/**
 * A filtration whose truth is known: marks at even volumes up to a share of the capacity, each time off by a relative error.
 * Draws whose clock would run back are drawn again, as no clock does. For judging the forecast and for practice.
 */
export function simulateFlow(
  chance: Chance,
  given: {
    readonly law: BlockingLaw;
    readonly capacityMl: number;
    readonly flowMlS: number;
    /** Last mark as a share of the capacity. */
    readonly upTo: number;
    readonly marks: number;
    readonly timingError: number;
    /** Where the errors lie: in the time since the start, or in each step from the mark before it. */
    readonly errorsIn?: 'elapsed' | 'steps';
  },
): SimulatedFlow {
  const { law, capacityMl, flowMlS, upTo, marks: n, timingError, errorsIn = 'elapsed' } = given;
  const lossPerMl = volumeAtFlow(law, FULL_AT_FLOW, 1) / capacityMl;
  const volumes = Array.from({ length: n }, (_, i) => (capacityMl * upTo * (i + 1)) / n);
  for (;;) {
    let shown = 0;
    let before = 0;
    const marks = volumes.map((volumeMl) => {
      const truth = timeFor(law, volumeMl, flowMlS, lossPerMl);
      const error = 1 + drawNormal(chance, 0, timingError);
      shown = errorsIn === 'elapsed' ? truth * error : shown + (truth - before) * error;
      before = truth;
      return { volumeMl, timeS: shown };
    });
    if (marks.every((mark, i) => mark.timeS > (marks[i - 1]?.timeS ?? 0))) return { law, capacityMl, marks };
  }
}
