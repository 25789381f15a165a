/** The reporting and quality items, filled by the records themselves: done, missing and where to enter it, or not applicable and why. */
import { CONTROL_ITEMS } from './control-items.ts';
import type { ChecklistFacts } from './facts.ts';
import type { Item, ItemState, Severity } from './item.ts';
import { LOOKING_ITEMS } from './looking-items.ts';
import { QUESTION_ITEMS } from './question-items.ts';
import { RESULT_ITEMS } from './result-items.ts';

export const CHECKLIST_ITEMS: readonly Item[] = [
  ...QUESTION_ITEMS,
  ...CONTROL_ITEMS,
  ...LOOKING_ITEMS,
  ...RESULT_ITEMS,
];

export interface CheckedItem extends Omit<Item, 'judge'> {
  readonly state: ItemState;
  readonly says: string;
}

export interface Checklist {
  readonly items: readonly CheckedItem[];
  /** How many are missing of each severity. */
  readonly missing: Readonly<Record<Severity, number>>;
  /** The gravest that are missing first: what to enter next. */
  readonly next: readonly CheckedItem[];
}

const GRAVITY: readonly Severity[] = ['blocks', 'weakens', 'note'];

export function checkList(facts: ChecklistFacts): Checklist {
  const items = CHECKLIST_ITEMS.map(({ judge, ...item }): CheckedItem => ({ ...item, ...judge(facts) }));
  const open = items.filter(({ state }) => state === 'missing');
  const count = (severity: Severity) => open.filter((item) => item.severity === severity).length;
  return {
    items,
    missing: { blocks: count('blocks'), weakens: count('weakens'), note: count('note') },
    next: [...open].sort((a, b) => GRAVITY.indexOf(a.severity) - GRAVITY.indexOf(b.severity)),
  };
}
