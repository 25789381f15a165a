/** What a step cannot be, in one sentence: an amount that its kind does not take, water hotter than it boils, weeks uncovered. */
import type { Refusal } from '../../units/index.ts';
import { amountWords } from '../edition-changes.ts';
import { kindOf } from '../step-kinds/index.ts';
import type { Step } from './procedure.ts';

type Amounts = Step['quantities'];

const wrong = (message: string): Refusal => ({ why: 'impossible-step', message });

/** The first of the amounts that a step of this kind cannot have; null where all can be. */
export function amountsProblem(step: Pick<Step, 'key' | 'kind' | 'own'>, amounts: Amounts): Refusal | null {
  const kind = kindOf(step);
  if (!kind) {
    return {
      why: 'unknown-kind',
      message: `step “${step.key}”: “${step.kind}” is not a known kind of step; choose one from the list.`,
    };
  }
  for (const [name, amount] of Object.entries(amounts)) {
    const asked = kind.quantities.find((q) => q.name === name);
    if (!asked) {
      return {
        why: 'unknown-quantity',
        message: `step “${step.key}” (${step.kind}): it takes no ${name}; it takes ${
          kind.quantities.map((q) => q.name).join(', ') || 'no quantity'
        }.`,
      };
    }
    if (amount < asked.least || amount > asked.most) {
      const [given, least, most] = [amount, asked.least, asked.most].map((v) => plain(name, v));
      return wrong(
        `step “${step.key}” (${step.kind}): ${asked.label} ${given} cannot be; from ${least} to ${most} is possible. ${remedy(name, amount)}`,
      );
    }
  }
  return null;
}

/** Minutes and times with their unit as it stands, so that two bounds read alike. */
const plain = (name: string, amount: number): string =>
  name === 'minutes' ? `${amount} min` : name === 'times' ? `${amount} times` : amountWords(name, amount);

function remedy(name: string, amount: number): string {
  if (amount <= 0 && (name === 'volume_ml' || name === 'mass_g'))
    return 'Where nothing was used, leave the step out; otherwise enter what was measured.';
  return 'Look at the number and its unit again, and enter what was measured.';
}

/** Longest that a vessel is taken to have stood open at one step: two weeks. Common practice, no source: it catches slips of the finger. */
export const LONGEST_UNCOVERED_MIN = 14 * 24 * 60;

/** Why a step cannot have stood open so long; null where it can. */
export function uncoveredProblem(key: string, minutes: number | null): Refusal | null {
  if (minutes === null || (minutes >= 0 && minutes <= LONGEST_UNCOVERED_MIN)) return null;
  return wrong(
    `step “${key}”: ${minutes} minutes uncovered cannot be; from 0 to ${LONGEST_UNCOVERED_MIN} (two weeks) is possible. Enter how long it really stood open.`,
  );
}

const WATERY = /\b(water|tea|coffee|milk|broth|saliva|juice|vinegar|wine|beer)\b/i;
const PRESSED = /pressure|autoclave|steam/i;

/** Watery liquids boil at 100 °C under ordinary pressure (CODATA steam point 99.97 °C at 101.325 kPa). */
function hotWaterProblem({ key, kind, quantities, touches, note }: Step): Refusal | null {
  const t = quantities.temperature_c;
  if (t === undefined || t <= 100 || !touches.liquid || !WATERY.test(touches.liquid)) return null;
  if ([touches.vessel, touches.tool, touches.liquid, note].some((words) => words && PRESSED.test(words)))
    return null;
  return wrong(
    `step “${key}” (${kind}): ${touches.liquid} at ${t} °C cannot be in an open vessel, because water boils at 100 °C; enter what the thermometer showed, or name the pressure cooker or autoclave as its vessel.`,
  );
}

/** Why a step cannot have been done as it is written; null where it can. */
export function impossibleStep(step: Step): Refusal | null {
  return (
    amountsProblem(step, step.quantities) ??
    uncoveredProblem(step.key, step.minutesUncovered) ??
    hotWaterProblem(step)
  );
}
