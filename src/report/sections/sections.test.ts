import { describe, expect, it } from 'vitest';
import type { ReportFacts, ReportPiece } from '../facts.ts';
import { piecesSection } from './pieces.ts';
import { runsSection } from './runs.ts';

const piece = (standing: ReportPiece['standing'], feretMaxUm: number | null, shape = 'fragment') =>
  ({ standing, feretMaxUm, shape, colour: 'blue', run: 'S1', photo: 'S1.jpg', number: 1 }) as ReportPiece;

const facts = (pieces: readonly ReportPiece[], more: object = {}) =>
  ({
    study: { question: { sizeToUm: 500, shapes: ['fragment'], colours: [] } },
    sizeFromUm: 100,
    pieces,
    pictures: [],
    photos: [{ name: 'S1.jpg' }],
    runs: [],
    specimens: [],
    ...more,
  }) as unknown as ReportFacts;

describe('pieces of a report', () => {
  it('are told apart so that the parts add up to all of them', () => {
    const [first] = piecesSection(
      facts([
        piece('kept', 150),
        piece('kept', 200),
        piece('unmarked', 300),
        piece('dropped', 150),
        piece('dropped', 20),
        piece('kept', 86),
        piece('unmarked', 900),
        piece('kept', 150, 'fibre'),
        piece('unmarked', null),
      ]),
    ).blocks;
    const text = (first as { text: string }).text;
    expect(text).toBe(
      '9 pieces were found or drawn on 1 photograph: 3 in the counts (1 of these looked at by nobody yet), 2 dropped by a person and 4 outside the sizes, shapes or colours of the question, or without a size (2 of these looked at by nobody yet).',
    );
    const parts = [...text.matchAll(/(?<!\()\b(\d+) (?:in the|dropped|outside)/g)].map(([, n]) => Number(n));
    expect(parts.reduce((sum, n) => sum + n, 0)).toBe(9);
  });
});

describe('runs of a report', () => {
  const run = (name: string, kind: string, count: number) => ({
    ...{ name, kind, count, day: '2026-01-05', operator: '', specimen: 'board', massG: 1, filters: [] },
    ...{
      passed: 1,
      examined: 1,
      unmarked: 0,
      added: null,
      inBackground: kind !== 'specimen',
      leftOut: false,
    },
  });
  const judged = (decidingCount: number | null) => ({
    controls: { perRun: { value: 2, lower: 1, upper: 4 } },
    specimens: { effort: 1 },
    thresholds: { decidingCount, decisionCount: 7 },
  });
  const chart = (decidingCount: number | null) =>
    JSON.stringify(
      runsSection(
        facts([], {
          runs: [run('S1', 'specimen', 9), run('C1', 'act-control', 2)],
          specimens: [{ judged: judged(decidingCount) }],
        }),
      ).blocks,
    );

  it('draw the count that decides where there is one, and none where the joint model decides', () => {
    expect(chart(9)).toContain('stands out');
    expect(chart(null)).not.toContain('stands out');
  });
});
