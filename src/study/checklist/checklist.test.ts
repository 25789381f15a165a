import { describe, expect, it } from 'vitest';
import type { Step } from '../records/procedure.ts';
import type { Run, RunKind } from '../records/run.ts';
import type { Specimen } from '../records/specimen.ts';
import type { Study } from '../records/study.ts';
import { CHECKLIST_ITEMS, checkList } from './check-list.ts';
import type { ChecklistFacts, ListedRun } from './facts.ts';
import { publishedScores } from './scores.ts';

const step = (kind: string, more: Partial<Step> = {}): Step => ({
  key: kind,
  kind,
  quantities: {},
  touches: {
    vessel: null,
    tool: null,
    liquid: null,
    reagentLot: null,
    place: null,
    person: null,
    filterLot: 'F-1',
    optics: null,
  },
  minutesUncovered: 1,
  openings: null,
  note: '',
  ...more,
});
const STEPS = [
  step('rinse'),
  step('cut', { quantities: { mass_g: 100 } }),
  step('filter'),
  step('rinse', { key: 'rinse-funnel' }),
];
const listed = (
  name: string,
  kind: RunKind,
  session: string,
  order: number,
  more: Partial<ListedRun> = {},
): ListedRun => ({
  run: {
    id: name,
    name,
    kind,
    session,
    order,
    day: `2026-03-0${session}`,
    edition: 'E',
    portion: name,
    note: '',
  } as unknown as Run,
  steps: STEPS,
  filters: [],
  passed: 1,
  examined: 1,
  count: 3,
  unmarked: 0,
  matched: kind === 'specimen' ? true : null,
  ...more,
});
const RUNS = ['1', '2', '3'].flatMap((session, at) => [
  listed(`dish-${session}`, 'air-control', session, 10 * at + 1),
  listed(`act-${session}a`, 'act-control', session, 10 * at + 2),
  listed(`run-${session}a`, 'specimen', session, 10 * at + 3),
  listed(`act-${session}b`, 'act-control', session, 10 * at + 4),
  listed(`run-${session}b`, 'specimen', session, 10 * at + 5),
  listed(`spiked-${session}`, 'spiked-run', session, 10 * at + 6),
]);
const FACTS: ChecklistFacts = {
  study: {
    question: {
      product: 'board',
      act: 'cut',
      durationMin: 6,
      liquid: 'filtered water',
      sizeFromUm: 100,
      sizeToUm: null,
      countsAs: 'pieces that look made',
      decision: { confidence: 0.95, matters: null },
    },
  } as unknown as Study,
  specimens: [
    { name: 'Board', role: 'product', lot: 'B-1', age: 'new', material: 'PE', maker: '' } as Specimen,
  ],
  portions: [{}] as never,
  editions: [{ id: 'E' as never, number: 1 }],
  runs: RUNS,
  deviations: { all: 0, reasoned: 0 },
  planned: true,
  questionChangedLate: false,
  photos: { all: 18, searched: 18, withScale: 18, refused: 0, setAside: 0 },
  optics: { all: 1, calibrated: 1 },
  floorUm: 80,
  pxAcrossSmallest: 16,
  markers: 2,
  tests: { pieces: 0, kinds: [] },
  drills: { plastic: 30, natural: 30 },
  confirmation: { drawn: 0, tested: 0 },
  rounds: { sealed: 1, readers: 2 },
  claim: { state: 'quantified', interval: true, limit: true, identifiedBy: 'by-eye' },
  safetyAsked: false,
  safetyReady: true,
};
const stateOf = (facts: ChecklistFacts, id: string) => checkList(facts).items.find((item) => item.id === id)!;

describe('the checklist', () => {
  it('has each item once, with its demand and where it comes from', () => {
    expect(new Set(CHECKLIST_ITEMS.map(({ id }) => id)).size).toBe(CHECKLIST_ITEMS.length);
    for (const { id, anchor, asks } of CHECKLIST_ITEMS) {
      expect(anchor.length, id).toBeGreaterThan(5);
      expect(asks, id).toMatch(/\.$/);
    }
  });

  it('finds what a well-kept study has, and tells apart what does not apply', () => {
    for (const id of [
      'Q1',
      'Q2',
      'Q3',
      'Q5',
      'P1',
      'P3',
      'C1',
      'C4',
      'C5',
      'C7',
      'C10',
      'F2',
      'I1',
      'I2',
      'R4',
    ]) {
      expect(stateOf(FACTS, id), id).toMatchObject({ state: 'done' });
    }
    expect(stateOf(FACTS, 'D1')).toMatchObject({ state: 'not-applicable', says: 'Nothing was digested.' });
    expect(stateOf(FACTS, 'T1').state).toBe('not-applicable');
    expect(stateOf(FACTS, 'R5').state).toBe('not-applicable');
  });

  it('says how many blanks are missing, and that it blocks a figure', () => {
    const two = {
      ...FACTS,
      runs: RUNS.filter(({ run }) => run.kind !== 'act-control' || run.session === '1'),
    };
    expect(stateOf(two, 'C1')).toMatchObject({
      state: 'missing',
      severity: 'blocks',
      says: '2 counted: make 1 more.',
    });
    expect(checkList(two).missing.blocks).toBeGreaterThan(checkList(FACTS).missing.blocks);
  });

  it('names the runs without a match, the sittings without a dish and the liquid not on record', () => {
    const runs = RUNS.map((one) =>
      one.run.name === 'run-2a' ? { ...one, matched: false, passed: null } : one,
    ).filter(({ run }) => run.name !== 'dish-3');
    expect(stateOf({ ...FACTS, runs }, 'C10').says).toContain('run-2a');
    expect(stateOf({ ...FACTS, runs }, 'C5').says).toBe('No dish in: 3.');
    expect(stateOf({ ...FACTS, runs }, 'F2').says).toContain('run-2a');
  });

  it('does not take controls in sittings of their own for turns', () => {
    const apart = RUNS.map((one) =>
      one.run.kind === 'act-control'
        ? { ...one, run: { ...one.run, session: '9', day: '2026-03-09' as never } }
        : one,
    );
    expect(stateOf({ ...FACTS, runs: apart }, 'P3').state).toBe('missing');
  });

  it('puts what blocks before what weakens', () => {
    const bare = {
      ...FACTS,
      runs: [],
      photos: { all: 0, searched: 0, withScale: 0, refused: 0, setAside: 0 },
    };
    const { next } = checkList(bare);
    const order = next.map(({ severity }) => severity);
    expect(order.lastIndexOf('blocks')).toBeLessThan(order.indexOf('weakens'));
    expect(checkList(bare).items.every(({ says }) => says.length > 3)).toBe(true);
  });
});

describe('the two published scores', () => {
  it('have nine and ten criteria of nought, one or two', () => {
    const [water, biota] = publishedScores(FACTS);
    expect([water!.criteria.length, water!.most]).toEqual([9, 18]);
    expect([biota!.criteria.length, biota!.most]).toEqual([10, 20]);
    for (const { criteria, total } of [water!, biota!]) {
      expect(total).toBe(criteria.reduce((sum, { score }) => sum + score, 0));
    }
  });

  it('flag any nought: identified by eye alone is one', () => {
    const [water] = publishedScores(FACTS);
    expect(water!.criteria.find(({ name }) => name === 'polymer identification')?.score).toBe(0);
    expect(water!.anyNought).toBe(true);
  });

  it('give nothing for food that was not digested, and two only where a note says why', () => {
    const of = (runs: typeof RUNS) =>
      publishedScores({ ...FACTS, runs })[0]!.criteria.find(({ name }) => name === 'sample treatment')!;
    const bare = RUNS.map((one) => ({ ...one, steps: one.steps.filter(({ kind }) => kind !== 'digest') }));
    const food = bare.some(
      ({ run, steps }) =>
        run.kind === 'matrix-blank' || (run.kind === 'specimen' && steps.some(({ kind }) => kind === 'cut')),
    );
    expect(of(bare)).toMatchObject({ score: food ? 0 : 1 });
    const water = bare
      .filter(({ run }) => run.kind !== 'matrix-blank')
      .map((one) => ({ ...one, steps: one.steps.filter(({ kind }) => kind !== 'cut') }));
    expect(of(water).score).toBe(1);
    const noted = water.map((one) => ({
      ...one,
      run: { ...one.run, note: '5 mL passed and the squares show: no digestion needed' },
    }));
    expect(of(noted)).toMatchObject({ score: 2, because: expect.stringContaining('5 mL passed') });
  });

  it('let a photograph of what is kept for later be, and block on any other that could not be searched', () => {
    const photos = (refused: number, setAside: number) => ({ ...FACTS.photos, refused, setAside });
    expect(stateOf({ ...FACTS, photos: photos(0, 1) }, 'I4')).toMatchObject({ state: 'done' });
    expect(stateOf({ ...FACTS, photos: photos(0, 1) }, 'I4').says).toContain('counts as not looked at');
    expect(stateOf({ ...FACTS, photos: photos(1, 1) }, 'I4').state).toBe('missing');
  });

  it('give two for three and more matched blanks and spikes, one without a match, nought without any', () => {
    const scoreOf = (facts: ChecklistFacts, name: string) =>
      publishedScores(facts)[0]!.criteria.find((criterion) => criterion.name === name)!.score;
    expect(scoreOf(FACTS, 'negative controls')).toBe(2);
    expect(scoreOf(FACTS, 'positive controls')).toBe(2);
    const unmatched = RUNS.map((one) => ({ ...one, matched: one.matched === null ? null : false }));
    expect(scoreOf({ ...FACTS, runs: unmatched }, 'negative controls')).toBe(1);
    const none = RUNS.filter(({ run }) => run.kind === 'specimen');
    expect(scoreOf({ ...FACTS, runs: none }, 'negative controls')).toBe(0);
  });
});
