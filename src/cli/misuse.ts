import { InvalidArgumentError } from 'commander';
import type { Outcome } from '../units/index.ts';

/** Exit status of every command. */
export const STATUS = { done: 0, refused: 1, misuse: 2 } as const;
export type Status = (typeof STATUS)[keyof typeof STATUS];

/** Turns a reading into a parser of one option: what cannot be read is misuse, said by commander with the option's name. */
export function option<T>(read: (text: string) => Outcome<T>): (text: string) => T {
  return (text) => {
    const outcome = read(text);
    if (!outcome.ok) throw new InvalidArgumentError(outcome.refusal.message);
    return outcome.value;
  };
}
