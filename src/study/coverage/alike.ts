import { type Step, TOUCHES, type Touches } from '../records/procedure.ts';
import { plainWords } from './plain-words.ts';

/** The steps with names that a study holds to be one thing written one way: the first of each list. */
export function withAlike(steps: readonly Step[], alike: readonly (readonly string[])[]): readonly Step[] {
  if (alike.length === 0) return steps;
  const first = new Map(
    alike.flatMap((names) => names.map((name) => [plainWords(name), names[0]!] as const)),
  );
  return steps.map((step) => {
    const touches = { ...step.touches } as { -readonly [T in keyof Touches]: Touches[T] };
    for (const what of TOUCHES) {
      const value = touches[what];
      if (value !== null) touches[what] = first.get(plainWords(value)) ?? value;
    }
    return { ...step, touches };
  });
}
