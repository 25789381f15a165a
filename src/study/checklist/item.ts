import type { ChecklistFacts } from './facts.ts';

export const ITEM_STATES = ['done', 'missing', 'not-applicable'] as const;
export type ItemState = (typeof ITEM_STATES)[number];

/** What is missing blocks any figure, weakens the claim, or is a note. */
export const SEVERITIES = ['blocks', 'weakens', 'note'] as const;
export type Severity = (typeof SEVERITIES)[number];

export interface Judged {
  readonly state: ItemState;
  /** What was found, or what is missing and where it is entered. */
  readonly says: string;
}

export interface Item {
  readonly id: string;
  readonly asks: string;
  readonly severity: Severity;
  /** The published demand, and how it was seen. */
  readonly anchor: string;
  readonly place: 'question' | 'procedure' | 'runs' | 'filters' | 'evidence' | 'claim';
  readonly judge: (facts: ChecklistFacts) => Judged;
}

export const yes = (says: string): Judged => ({ state: 'done', says });
export const no = (says: string): Judged => ({ state: 'missing', says });
export const notHere = (says: string): Judged => ({ state: 'not-applicable', says });
export const either = (holds: boolean, done: string, missing: string): Judged =>
  holds ? yes(done) : no(missing);

export const times = (n: number, one: string, more = `${one}s`): string => `${n} ${n === 1 ? one : more}`;
