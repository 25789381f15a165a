import { describe, expect, it } from 'vitest';
import { disagreements } from './marking.ts';
import type { Decision, Mark } from './records/mark.ts';

let turn = 0;
const mark = (by: string, kind: 'keep' | 'drop', ...particles: string[]): Mark =>
  of(by, { kind }, ...particles);
const of = (by: string, decision: Decision, ...particles: string[]): Mark => {
  turn += 1;
  return {
    id: `mark-${turn}`,
    photo: 'photo',
    particles,
    decision,
    by,
    at: `2026-03-01T09:00:${String(turn).padStart(2, '0')}.000Z`,
  } as unknown as Mark;
};
const who = (marks: readonly Mark[], particle = 'p1') =>
  disagreements(marks)
    .get(particle as never)
    ?.map(({ by, kept }) => `${by} ${kept ? 'keeps' : 'drops'}`);

describe('where people differ', () => {
  it('is shown with the last word of each, the one that stands last', () => {
    const marks = [mark('Ada', 'keep', 'p1', 'p2'), mark('Ben', 'drop', 'p1')];
    expect(who(marks)).toEqual(['Ada keeps', 'Ben drops']);
    expect(who(marks, 'p2')).toBeUndefined();
    expect(who([...marks, mark('Ada', 'keep', 'p1')])).toEqual(['Ben drops', 'Ada keeps']);
  });
  it('is over when they come to agree, or when one takes the mark back', () => {
    const [first, second] = [mark('Ada', 'keep', 'p1'), mark('Ben', 'drop', 'p1')];
    expect(who([first, second, mark('Ben', 'keep', 'p1')])).toBeUndefined();
    expect(who([first, second, of('Ben', { kind: 'undo', undoes: second.id }, 'p1')])).toBeUndefined();
  });
  it('is not between one person and an earlier self', () => {
    expect(who([mark('Ada', 'keep', 'p1'), mark('Ada', 'drop', 'p1')])).toBeUndefined();
  });
});
