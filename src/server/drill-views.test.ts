import { describe, expect, it } from 'vitest';
import type { DrillAnswer, EvidenceUndo, KnownSet } from '../study/index.ts';
import { sittingsOf } from './drill-views.ts';

const set = {
  id: 'set',
  name: 'Known',
  pieces: [
    { key: '1', material: 'PE', class: 'thermoplastic' },
    { key: '2', material: 'cotton', class: 'plant' },
  ],
} as unknown as KnownSet;
const called = (id: string, piece: string, at: string): DrillAnswer =>
  ({
    id,
    set: 'set',
    piece,
    test: 'by-eye',
    called: 'plastic',
    announced: true,
    by: 'ada',
    at,
  }) as unknown as DrillAnswer;
const undo = (id: string, undoes: string) => ({ id, undoes }) as EvidenceUndo;
const people = new Map([['ada', 'Ada']]);

describe('drills on record', () => {
  const answers = [
    called('a', '1', '2026-01-05T09:00:00.000Z'),
    called('b', '2', '2026-01-05T09:00:00.004Z'),
    called('c', '1', '2026-01-06T09:00:00.000Z'),
  ];

  it('are told sitting by sitting, the newest first, with what each piece is', () => {
    const [second, first] = sittingsOf([set], answers, [], people);
    expect(second!.answers.map(({ id }) => id)).toEqual(['c']);
    expect(first).toMatchObject({ by: 'Ada', set: 'Known', test: 'by-eye', announced: true });
    expect(first!.answers.map(({ material, plastic }) => [material, plastic])).toEqual([
      ['PE', true],
      ['cotton', false],
    ]);
  });

  it('are one sitting for as long as the scoring took into which the pieces were slipped', () => {
    const slipped = answers.slice(0, 2).map((answer, k) => ({
      ...answer,
      announced: false,
      at: `2026-01-05T09:${k === 0 ? '00' : '40'}:00.000Z` as DrillAnswer['at'],
    }));
    expect(sittingsOf([set], slipped, [], people)).toHaveLength(1);
  });

  it('begin anew where a piece is called again, unless its answer was taken back', () => {
    const again = [...answers.slice(0, 2), called('d', '1', '2026-01-05T09:05:00.000Z')];
    const ids = (undos: EvidenceUndo[]) =>
      sittingsOf([set], again, undos, people).map((one) => one.answers.map(({ id }) => id));
    expect(ids([])).toEqual([['d'], ['a', 'b']]);
    expect(ids([undo('u', 'a')])).toEqual([['a', 'b', 'd']]);
  });

  it('name what is to be undone to turn an answer over: itself, or the last undo upon it', () => {
    const undos = [undo('u', 'a'), undo('v', 'b'), undo('w', 'v')];
    const [second, first] = sittingsOf([set], answers, undos, people);
    expect(first!.answers.map(({ undone, last }) => [undone, last])).toEqual([
      [true, 'u'],
      [false, 'w'],
    ]);
    expect(second!.answers[0]).toMatchObject({ undone: false, last: 'c' });
  });
});
