import type { Refusal } from '../../units/index.ts';

/** Why a design's data give no answer of its kind. */
export interface DesignRefusal extends Refusal {
  readonly why: 'nothing-below-the-line' | 'too-few-pairs' | 'too-few-doses' | 'efforts-missing';
}
