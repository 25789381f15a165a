import { normalCdf } from '../../maths/index.ts';
import { type Knowledge, known } from './knowledge.ts';

const POINTS = 64;

/**
 * Knowledge of a factor that is 1 but for a relative standard uncertainty: log-normal with median 1, so that a factor of
 * two too much is as likely as one of two too little. Exact at equal steps of its quantiles, its tails cut at 1 in 3000.
 */
export function factorKnowledge(relative: number): Knowledge {
  if (!(relative >= 0 && relative < 3)) {
    throw new RangeError(`relative uncertainty: from 0 and below 3 is needed, given ${relative}`);
  }
  if (relative === 0) return known(1);
  const sigma = Math.sqrt(Math.log1p(relative * relative));
  const reach = 3.4;
  const at = new Float64Array(POINTS + 1);
  const share = new Float64Array(POINTS + 1);
  for (let i = 0; i <= POINTS; i++) {
    const z = -reach + (2 * reach * i) / POINTS;
    at[i] = Math.exp(sigma * z);
    share[i] = i === 0 ? 0 : i === POINTS ? 1 : normalCdf(z);
  }
  return { at, share };
}
