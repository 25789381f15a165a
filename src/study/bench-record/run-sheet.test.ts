import { describe, expect, it } from 'vitest';
import { impossibleStep } from '../records/possible-step.ts';
import type { Step } from '../records/procedure.ts';
import type { Deviation, RunFraction } from '../records/run.ts';
import type { TapDeed } from '../records/tap.ts';
import { makeTapDeed } from '../records/tap.ts';
import { balance } from './balance.ts';
import { runSheet, stepsMeasured } from './run-sheet.ts';
import { type BenchTap, newestStanding, standingTaps } from './standing-taps.ts';
import { uncoveredSum } from './uncovered.ts';

const NOTHING = {
  vessel: null,
  tool: null,
  liquid: null,
  reagentLot: null,
  place: null,
  person: null,
  filterLot: null,
  optics: null,
};
const step = (
  key: string,
  kind: string,
  quantities: Record<string, number> = {},
  minutes: number | null = 1,
): Step => ({
  key,
  kind,
  quantities,
  touches: NOTHING,
  minutesUncovered: minutes,
  openings: null,
  note: '',
});
const EDITION = {
  steps: [
    step('cut', 'cut', { times: 100 }),
    step('soak', 'soak', { volume_ml: 200, minutes: 10 }),
    step('filter', 'filter', { volume_ml: 200 }, null),
  ],
};
const RUN = { id: 'r1' } as never;

let number = 0;
const tap = (minute: number, deed: TapDeed, more: Partial<BenchTap> = {}): BenchTap => {
  number += 1;
  return {
    id: `t${number}` as never,
    number,
    device: 'a telephone',
    deed,
    refusal: null,
    at: new Date(Date.UTC(2026, 0, 5, 9, minute)).toISOString() as never,
    ...more,
  };
};
const deviation = (given: Partial<Deviation>): Deviation =>
  ({
    id: 'd1-abcd',
    runs: ['r1'],
    kind: 'changed',
    stepKey: null,
    asDone: null,
    what: '',
    why: '',
    ...given,
  }) as never;
const sheet = (taps: readonly BenchTap[], deviations: readonly Deviation[] = []) =>
  runSheet(EDITION, RUN, deviations, taps);

describe('the run sheet', () => {
  it('goes from planned over under way to done', () => {
    expect(sheet([]).state).toBe('planned');
    const begun = [tap(0, { do: 'begin' }), tap(1, { do: 'start', step: 'cut' })];
    expect(sheet(begun)).toMatchObject({ state: 'under-way', begunAt: '2026-01-05T09:00:00.000Z' });
    expect(sheet(begun).steps.map((line) => line.state)).toEqual(['under-way', 'to-do', 'to-do']);
    expect(sheet([...begun, tap(30, { do: 'end' })]).state).toBe('done');
  });

  it('measures a step by its taps, and what was typed stands before what was timed', () => {
    const taps = [
      tap(0, { do: 'start', step: 'soak' }),
      tap(13, { do: 'finish', step: 'soak', quantities: { volume_ml: 190 } }),
    ];
    const soak = sheet(taps).steps[1]!;
    expect(soak).toMatchObject({ state: 'done', minutes: 13, quantities: { volume_ml: 190 } });
    expect(stepsMeasured(EDITION, RUN, [], taps)[1]!.quantities).toEqual({ volume_ml: 190, minutes: 13 });
    const typed = [...taps, tap(14, { do: 'finish', step: 'soak', quantities: { minutes: 11 } })];
    expect(stepsMeasured(EDITION, RUN, [], typed)[1]!.quantities).toEqual({ volume_ml: 200, minutes: 11 });
  });

  it('leaves a run that nobody tapped as its edition says', () => {
    expect(stepsMeasured(EDITION, RUN, [], [])).toEqual(EDITION.steps);
  });

  it('says of a clock that ran backwards that the time is not known', () => {
    const lines = sheet([
      tap(9, { do: 'start', step: 'cut' }),
      tap(3, { do: 'finish', step: 'cut', quantities: {} }),
    ]);
    expect(lines.steps[0]).toMatchObject({ state: 'done', minutes: null });
    expect(lines.problems[0]).toContain('ends before it begins');
  });

  it('adds up the minutes uncovered, timed, typed and planned, and never takes silence for nought', () => {
    const { steps } = sheet([
      tap(0, { do: 'uncover', step: 'cut' }),
      tap(4, { do: 'cover', step: 'cut' }),
      tap(5, { do: 'uncover', step: 'cut' }),
      tap(7, { do: 'cover', step: 'cut' }),
    ]);
    expect(uncoveredSum(steps)).toMatchObject({
      minutes: 7,
      measuredMin: 6,
      plannedMin: 1,
      openings: 2,
      notSaid: ['filter'],
      open: [],
    });
    const open = sheet([tap(0, { do: 'uncover', step: 'filter' })]).steps;
    expect(uncoveredSum(open).open).toEqual([{ step: 'filter', since: '2026-01-05T09:00:00.000Z' }]);
    const typed = sheet([tap(0, { do: 'exposure', step: 'filter', minutes: 12, openings: 3 })]).steps;
    expect(uncoveredSum(typed)).toMatchObject({ measuredMin: 12, openings: 3, notSaid: [] });
  });

  it('shows a step left out in its place, a changed one and one put in', () => {
    const { steps } = sheet(
      [],
      [
        deviation({ kind: 'left-out', stepKey: 'soak' }),
        deviation({
          kind: 'changed',
          stepKey: 'filter',
          asDone: step('filter', 'filter', { volume_ml: 150 }),
        }),
        deviation({ kind: 'put-in', stepKey: 'cut', asDone: step('rinse', 'rinse') }),
      ],
    );
    expect(steps.map((line) => [line.step.key, line.otherwise])).toEqual([
      ['cut', 'as-planned'],
      ['soak', 'left-out'],
      ['rinse', 'put-in'],
      ['filter', 'changed'],
    ]);
  });

  it('undoes a tap, and an undo of the undo puts it back', () => {
    const begin = tap(0, { do: 'begin' });
    const note = tap(1, { do: 'note', step: null, text: 'window open' });
    const undo = tap(2, { do: 'undo', tap: note.id });
    expect(standingTaps([begin, note, undo])).toEqual([begin]);
    expect(newestStanding([begin, note, undo])).toBe(begin);
    expect(standingTaps([begin, note, undo, tap(3, { do: 'undo', tap: undo.id })])).toEqual([begin, note]);
    expect(sheet([begin, note, undo]).notes).toEqual([]);
  });

  it.each<[string, TapDeed[], string]>([
    [
      'an amount out of range',
      [{ do: 'finish', step: 'soak', quantities: { minutes: -5 } }],
      'time -5 min cannot be; from 0 min to 100000 min',
    ],
    [
      'water above its boiling point',
      [{ do: 'finish', step: 'tea', quantities: { temperature_c: 120 } }],
      'water boils at 100 °C',
    ],
    [
      'no liquid at all',
      [{ do: 'finish', step: 'filter', quantities: { volume_ml: 0 } }],
      'volume 0 mL cannot be; from 0.01 mL to 100000 mL is possible. Where nothing was used, leave the step out',
    ],
    ['a name it does not know', [{ do: 'finish', step: 'cut', quantities: { bananas: 4 } }], 'no bananas'],
    ['months uncovered', [{ do: 'exposure', step: 'cut', minutes: 99_999, openings: 3 }], 'two weeks'],
    [
      'a mark below the one before',
      [
        { do: 'volume-mark', step: 'filter', filter: null, volume_ml: 50 },
        { do: 'volume-mark', step: 'filter', filter: null, volume_ml: 20 },
      ],
      'what has passed does not come back',
    ],
  ])('says %s as a problem, and uses it for nothing', (_, deeds, says) => {
    const tea = step('tea', 'soak', { volume_ml: 200 });
    const edition = {
      steps: [...EDITION.steps, { ...tea, touches: { ...NOTHING, liquid: 'filtered water' } }],
    };
    const taps = deeds.map((deed, at) => tap(at, deed));
    const lines = runSheet(edition, RUN, [], taps);
    expect(lines.problems).toHaveLength(1);
    expect(lines.problems[0]).toContain(says);
    expect(stepsMeasured(edition, RUN, [], taps)).toEqual(edition.steps);
    expect(lines.steps.flatMap(({ marks }) => marks).length).toBe(deeds.length - 1);
  });

  it('takes what is hot under pressure, and what is at a bound', () => {
    const hot = (vessel: string) =>
      impossibleStep({
        ...step('tea', 'soak', { temperature_c: 121 }),
        touches: { ...NOTHING, liquid: 'filtered water', vessel },
      });
    expect(hot('beaker')?.why).toBe('impossible-step');
    expect(hot('pressure cooker')).toBeNull();
    expect(impossibleStep(step('soak', 'soak', { temperature_c: 100, minutes: 0 }))).toBeNull();
  });

  it('keeps a refused tap out of the record and in the list of problems', () => {
    const refused = tap(0, { do: 'begin' }, { refusal: { why: 'x', message: 'It could not be.' } });
    expect(sheet([refused])).toMatchObject({ state: 'planned', problems: ['It could not be.'] });
  });
});

describe('what a tap may say', () => {
  it.each([
    [{ do: 'dance' }, 'no deed “dance”'],
    [null, 'no deed'],
    [{ do: 'start' }, 'step'],
    [{ do: 'finish', step: 'a', quantities: { volume_ml: Number.NaN } }, 'volume_ml'],
    [{ do: 'volume-mark', step: 'a', filter: null, volume_ml: -1 }, 'volume_ml'],
    [{ do: 'exposure', step: 'a', minutes: -3, openings: null }, 'minutes'],
    [{ do: 'undo', tap: 'the last one' }, 'UUID'],
  ])('refuses %o', (given, says) => {
    const made = makeTapDeed(given);
    expect(made.ok ? '' : made.refusal.message).toContain(says);
  });
  it('keeps the fields that it knows and no others', () => {
    const made = makeTapDeed({ do: 'start', step: 'cut', colour: 'red' });
    expect(made).toEqual({ ok: true, value: { do: 'start', step: 'cut' } });
  });
});

describe('the balance of a run', () => {
  const part = (kind: string, volumeMl: number, fate = 'examined'): RunFraction =>
    ({ kind, volumeMl, fate }) as never;
  it('accounts for every millilitre, rinses apart', () => {
    const whole = balance(EDITION.steps, [
      part('passed', 150),
      part('remainder', 50, 'kept'),
      part('rinse', 30),
    ]);
    expect(whole).toMatchObject({ inMl: 200, outMl: 200, missingMl: 0, agrees: true });
    expect(whole.sentence).toBe('All 200 mL are accounted for.');
  });
  it('says what is missing, what is too much, and what is not known', () => {
    expect(balance(EDITION.steps, [part('passed', 150)])).toMatchObject({ missingMl: 50, agrees: false });
    expect(balance(EDITION.steps, [part('passed', 150)]).sentence).toContain('50 of 200 mL');
    expect(balance(EDITION.steps, [part('passed', 260)]).sentence).toContain('260 mL came out of 200 mL');
    expect(balance([], [part('passed', 260)])).toMatchObject({ inMl: null, missingMl: null, agrees: false });
    expect(balance(EDITION.steps, []).sentence).toContain('not recorded yet');
    expect(balance(EDITION.steps, [part('passed', 196)]).agrees).toBe(true);
  });
});
