import { describe, expect, it } from 'vitest';
import type { Step } from '../records/procedure.ts';
import type { RunId } from '../records/run.ts';
import { compareSteps, differences } from './compare.ts';
import { coverRun, gapSentence } from './cover-run.ts';
import { mendingSteps } from './mending-steps.ts';
import { mendSentence } from './serving.ts';

const NO_TOUCH: Step['touches'] = {
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
  quantities: Step['quantities'],
  touches: Partial<Step['touches']>,
  minutesUncovered: number | null = 1,
  openings: number | null = null,
): Step => ({
  key,
  kind,
  quantities,
  touches: { ...NO_TOUCH, place: 'bench', person: 'Ada', ...touches },
  minutesUncovered,
  openings,
  note: '',
});

/** An invented procedure of ten steps; where the product is touched, the control has glass. */
const procedure = (board: string): readonly Step[] => [
  step(
    'rinse',
    'rinse',
    { volume_ml: 300, times: 3 },
    { vessel: board, liquid: 'filtered water', reagentLot: 'W-1' },
  ),
  step('cut', 'cut', { minutes: 6, mass_g: 100 }, { vessel: board, tool: 'steel knife, green handle' }, 6),
  step('into-beaker', 'move', { times: 1 }, { vessel: 'glass beaker, 1 L', tool: 'steel spatula' }),
  step(
    'digest',
    'digest',
    { volume_ml: 400, minutes: 2880, temperature_c: 40 },
    { vessel: 'glass beaker, 1 L', liquid: 'potassium hydroxide 10 %', reagentLot: 'K-1' },
    2,
    4,
  ),
  step(
    'dilute',
    'dilute',
    { volume_ml: 200 },
    { vessel: 'glass beaker, 1 L', liquid: 'filtered water', reagentLot: 'W-1' },
  ),
  step('settle', 'settle', { minutes: 60 }, { vessel: 'glass beaker, 1 L' }, 0, 0),
  step('filter', 'filter', { volume_ml: 200, pore_um: 20 }, { vessel: 'glass funnel', filterLot: 'F-7' }, 8),
  step('dry', 'dry', { minutes: 240, temperature_c: 40 }, { vessel: 'covered dish', filterLot: 'F-7' }),
  step('photograph', 'photograph', { times: 1 }, { optics: 'macro 1:1' }, 4),
  step('score', 'score', { times: 1 }, {}, null),
];
const RUN = procedure('worn board');
const CONTROL = procedure('glass plate');
const PRODUCT = ['Worn board'];
const compare = (control: readonly Step[], run: readonly Step[] = RUN) => compareSteps(run, control, PRODUCT);

type Change = (steps: readonly Step[]) => readonly Step[];
const on =
  (key: string, change: (s: Step) => Step): Change =>
  (steps) =>
    steps.map((s) => (s.key === key ? change(s) : s));
const touch = (key: string, touches: Partial<Step['touches']>): Change =>
  on(key, (s) => ({ ...s, touches: { ...s.touches, ...touches } }));
const amount = (key: string, quantities: Record<string, number>): Change =>
  on(key, (s) => ({ ...s, quantities: { ...s.quantities, ...quantities } }));
const without =
  (key: string): Change =>
  (steps) =>
    steps.filter((s) => s.key !== key);
const after =
  (key: string, put: Step): Change =>
  (steps) =>
    steps.flatMap((s) => (s.key === key ? [s, put] : [s]));
const moved =
  (key: string, behind: string): Change =>
  (steps) => {
    const it = steps.find((s) => s.key === key)!;
    return after(behind, it)(without(key)(steps));
  };

/** What was planted, and what of it the comparison has to name. */
const PLANTED: readonly [name: string, change: Change, names: RegExp][] = [
  ...CONTROL.map((s): [string, Change, RegExp] => [
    `no ${s.key}`,
    without(s.key),
    new RegExp(`“${s.key}” is missing`),
  ]),
  ...CONTROL.map((s): [string, Change, RegExp] => [
    `another person at ${s.key}`,
    touch(s.key, { person: 'Ben' }),
    new RegExp(`“${s.key}”: person different`),
  ]),
  ...['rinse', 'dilute'].map((key): [string, Change, RegExp] => [
    `other water at ${key}`,
    touch(key, { reagentLot: 'W-2' }),
    new RegExp(`“${key}”: reagentLot different`),
  ]),
  ['other alkali', touch('digest', { reagentLot: 'K-2' }), /“digest”: reagentLot different/],
  ['other filter lot', touch('filter', { filterLot: 'F-8' }), /“filter”: filterLot different/],
  ['filter lot not recorded', touch('filter', { filterLot: null }), /“filter”: filterLot unknown/],
  ['other knife', touch('cut', { tool: 'steel knife, blue handle' }), /“cut”: tool different/],
  ['plastic spatula', touch('into-beaker', { tool: 'plastic spatula' }), /“into-beaker”: tool different/],
  ['other lens', touch('photograph', { optics: 'macro 2:1' }), /“photograph”: optics different/],
  ['tap water', touch('rinse', { liquid: 'tap water' }), /“rinse”: liquid different/],
  ['other digestion', touch('digest', { liquid: 'hydrogen peroxide 30 %' }), /“digest”: liquid different/],
  ...['into-beaker', 'digest', 'dilute', 'settle', 'filter', 'dry'].map((key): [string, Change, RegExp] => [
    `other vessel at ${key}`,
    touch(key, { vessel: 'plastic tub' }),
    new RegExp(`“${key}”: vessel different`),
  ]),
  ...['rinse', 'cut', 'filter', 'photograph'].map((key): [string, Change, RegExp] => [
    `another place at ${key}`,
    touch(key, { place: 'kitchen' }),
    new RegExp(`“${key}”: place different`),
  ]),
  ['half the alkali', amount('digest', { volume_ml: 200 }), /“digest”: volume_ml scaled/],
  ['a tenth of the alkali', amount('digest', { volume_ml: 40 }), /“digest”: volume_ml different/],
  ['less liquid filtered', amount('filter', { volume_ml: 120 }), /“filter”: volume_ml scaled/],
  ['hotter digestion', amount('digest', { temperature_c: 60 }), /“digest”: temperature_c different/],
  ['shorter digestion', amount('digest', { minutes: 1440 }), /“digest”: minutes different/],
  ['shorter settling', amount('settle', { minutes: 20 }), /“settle”: minutes different/],
  ['coarser pore', amount('filter', { pore_um: 50 }), /“filter”: pore_um different/],
  ['two rinses for three', amount('rinse', { times: 2 }), /“rinse”: times scaled/],
  ['less carrot', amount('cut', { mass_g: 60 }), /“cut”: mass_g scaled/],
  ['longer drying', amount('dry', { minutes: 600 }), /“dry”: minutes different/],
  [
    'open longer while cutting',
    on('cut', (s) => ({ ...s, minutesUncovered: 30 })),
    /“cut”: minutesUncovered different/,
  ],
  [
    'open half as long at the filter',
    on('filter', (s) => ({ ...s, minutesUncovered: 4 })),
    /“filter”: minutesUncovered scaled/,
  ],
  ['one more opening', on('digest', (s) => ({ ...s, openings: 5 })), /“digest”: openings scaled/],
  ['openings not counted', on('digest', (s) => ({ ...s, openings: null })), /“digest”: openings unknown/],
  ['digested after filtering', moved('digest', 'filter'), /in the other order/],
  ['diluted before digestion', moved('digest', 'dilute'), /in the other order/],
  ['settled before dilution', moved('dilute', 'settle'), /in the other order/],
  ['rinsed after cutting', moved('rinse', 'cut'), /in the other order/],
  [
    'an extra sieve',
    after('dilute', step('sieve', 'sieve', { pore_um: 500 }, { tool: 'steel sieve' })),
    /“sieve” is extra/,
  ],
  [
    'an extra soak',
    after('cut', step('soak', 'soak', { minutes: 10 }, { vessel: 'bowl' })),
    /“soak” is extra/,
  ],
  [
    'an extra rinse of the funnel',
    after(
      'settle',
      step('rinse-funnel', 'rinse', { volume_ml: 50 }, { vessel: 'glass funnel', liquid: 'filtered water' }),
    ),
    /“rinse-funnel” is extra/,
  ],
  [
    'stood open',
    after('filter', step('open', 'uncover', { minutes: 20 }, { vessel: 'covered dish' }, 20)),
    /“open” is extra/,
  ],
];

/** The same work, written by somebody else. */
const halves =
  (key: string, ...names: string[]): Change =>
  (steps) =>
    steps.flatMap((s) => {
      if (s.key !== key) return [s];
      const quantities = { ...s.quantities };
      for (const name of names) quantities[name] = quantities[name]! / 2;
      const half = {
        ...s,
        quantities,
        minutesUncovered: s.minutesUncovered && s.minutesUncovered / 2,
        openings: s.openings && s.openings / 2,
      };
      return [half, { ...half, key: `${s.key} again` }];
    });
const renamed: Change = (steps) => steps.map((s, at) => ({ ...s, key: `step ${at + 1}` }));
const shouted: Change = (steps) =>
  steps.map((s) => ({
    ...s,
    touches: Object.fromEntries(
      Object.entries(s.touches).map(([what, text]) => [what, text && `  ${text.toUpperCase()}. `]),
    ) as unknown as Step['touches'],
  }));
const WRITTEN: readonly [string, Change][] = [
  ['word for word', (steps) => steps],
  ['with other keys', renamed],
  ['in capitals', shouted],
  ['in capitals with other keys', (steps) => renamed(shouted(steps))],
  ['vessel in other words', touch('digest', { vessel: 'Beaker (glass) 1L' })],
  [
    'vessel in other words twice',
    (s) =>
      touch('dilute', { vessel: '1 l glass beaker' })(touch('settle', { vessel: 'beaker, glass, 1 L' })(s)),
  ],
  ['liquid in other words', touch('digest', { liquid: '10% potassium hydroxide' })],
  ['lot without hyphen', touch('digest', { reagentLot: 'lot K1' })],
  ['filter lot with the word', touch('filter', { filterLot: 'Lot F 7'.replace(' 7', '7') })],
  ['tool in other order', touch('cut', { tool: 'green handle steel knife' })],
  ['with articles', touch('into-beaker', { tool: 'the steel spatula' })],
  [
    'three rinses in three steps',
    (steps) =>
      steps.flatMap((s) =>
        s.key === 'rinse'
          ? [1, 2, 3].map((n) => ({
              ...s,
              key: `rinse ${n}`,
              quantities: { volume_ml: 100, times: 1 },
              minutesUncovered: 1 / 3,
            }))
          : [s],
      ),
  ],
  [
    'three rinses, times not said',
    (steps) =>
      steps.flatMap((s) =>
        s.key === 'rinse'
          ? [1, 2, 3].map((n) => ({
              ...s,
              key: `rinse ${n}`,
              quantities: { volume_ml: 100 },
              minutesUncovered: 1 / 3,
            }))
          : [s],
      ),
  ],
  ['filtered in two goes', halves('filter', 'volume_ml')],
  ['cut in two goes', halves('cut', 'minutes', 'mass_g')],
  ['digested in two goes', halves('digest', 'volume_ml', 'minutes')],
  ['diluted in two goes', halves('dilute', 'volume_ml')],
  ['settled in two goes', halves('settle', 'minutes')],
  ['times not said', on('photograph', (s) => ({ ...s, quantities: {} }))],
  ['scored before drying is noted', moved('dry', 'score')],
  ['photographs noted after scoring', moved('photograph', 'score')],
  ['rinse noted first by another name', (s) => renamed(moved('score', 'dry')(s))],
  ['a little more alkali', amount('digest', { volume_ml: 420 })],
  ['a little less time', amount('digest', { minutes: 2700 })],
  ['a degree more', amount('digest', { temperature_c: 42 })],
  ['a minute longer open', on('cut', (s) => ({ ...s, minutesUncovered: 7 }))],
  ['half a minute less open', on('filter', (s) => ({ ...s, minutesUncovered: 7.5 }))],
  ['with notes', (steps) => steps.map((s) => ({ ...s, note: 'as always' }))],
  ['in capitals, filtered in two goes', (s) => shouted(halves('filter', 'volume_ml')(s))],
  ['other keys, filtered in two goes', (s) => renamed(halves('filter', 'volume_ml')(s))],
];

describe('coverage', () => {
  it.each(PLANTED)('finds what was planted: %s', (_name, change, names) => {
    const compared = compare(change(CONTROL));
    expect(
      compared.steps.some((s) => s.grade !== 'same') || compared.extra.length + compared.swapped.length > 0,
    ).toBe(true);
    expect(differences(compared).join('\n')).toMatch(names);
  });

  it('finds every one of at least sixty planted differences', () => {
    const missed = PLANTED.filter(([, change]) => differences(compare(change(CONTROL))).length === 0);
    expect(PLANTED.length).toBeGreaterThanOrEqual(60);
    expect(missed.map(([name]) => name)).toEqual([]);
  });

  it('raises no alarm where the same work is written differently, as run and as control (at most 2 %)', () => {
    const alarms = WRITTEN.flatMap(([name, change]) => [
      ...differences(compare(change(CONTROL))).map((what) => `${name}: ${what}`),
      ...differences(compare(CONTROL, change(RUN))).map((what) => `${name}, as run: ${what}`),
    ]);
    expect(alarms).toEqual([]);
  });

  it('leaves alive what no control repeats, and names the cheapest that would close it', () => {
    const controlOf = (name: string, kind: 'act-control' | 'reagent-blank', steps: readonly Step[]) => ({
      runs: [name as RunId],
      name,
      kind,
      steps,
    });
    const run = touch('digest', { reagentLot: 'K-2' })(RUN);
    const acts = [controlOf('C1', 'act-control', CONTROL), controlOf('C2', 'act-control', CONTROL)];
    const open = coverRun(run, acts, PRODUCT);
    expect(open.gaps).toMatchObject([
      {
        attribute: 'reagentLot',
        grade: 'different',
        asDone: 'K-2',
        cause: 'reagent',
        closedBy: 'reagent-blank',
      },
    ]);
    expect(open.matching).toEqual([]);
    expect(open.steps.find((s) => s.step.key === 'cut')!.coveredBy).toEqual(['C1', 'C2']);
    const said = gapSentence('S1', open.gaps[0]!, open.background);
    expect(said).toBe(
      'Run S1: no control repeats the reagent lot “K-2” of “digest”, so the reagent may explain its particles; a reagent blank with the same would tell the reagent apart, and the run counts again only with one more act control like C1, but with the reagent lot “K-2” at “digest”.',
    );
    const bottle = run.filter((s) => s.key === 'digest' || s.key === 'filter');
    const closed = coverRun(run, [...acts, controlOf('R1', 'reagent-blank', bottle)], PRODUCT);
    expect(closed.gaps).toEqual([]);
    expect(coverRun(RUN, acts, PRODUCT)).toMatchObject({ gaps: [], matching: ['C1', 'C2'] });
    const none = coverRun(RUN, [], PRODUCT);
    expect(new Set(none.gaps.map((gap) => gap.step.key)).size).toBe(RUN.length);
  });
});

describe('which controls may serve as background', () => {
  const background = (control: readonly Step[], run: readonly Step[] = RUN) =>
    coverRun(run, [{ runs: ['C1' as RunId], name: 'C1', kind: 'act-control', steps: control }], PRODUCT)
      .background;

  it('is one that repeats every step, though the product is left out', () => {
    expect(background(CONTROL)).toMatchObject({ serving: [{ control: 'C1', scale: 1 }], nearest: null });
  });

  it.each(PLANTED)('after “%s” it serves only scaled or with something not recorded', (_, change, names) => {
    const { serving, nearest } = background(change(CONTROL));
    const found = differences(compare(change(CONTROL))).filter((line) => names.test(line));
    const disqualifies = found.some((line) => / different,| is missing| is extra| other order/.test(line));
    if (disqualifies) {
      expect(serving).toEqual([]);
      expect(nearest?.changes.length).toBeGreaterThan(0);
    } else {
      expect(serving).toHaveLength(1);
      expect(found.every((line) => / scaled,| unknown,/.test(line))).toBe(true);
    }
  });

  it('takes twice the background of a control with half the reagent, and none away for one with more', () => {
    expect(background(amount('digest', { volume_ml: 200 })(CONTROL)).serving[0]?.scale).toBe(2);
    expect(background(amount('digest', { volume_ml: 600 })(CONTROL)).serving[0]?.scale).toBe(1);
  });

  it('leaves the volume that passed a filter to the fraction passed', () => {
    expect(background(amount('filter', { volume_ml: 120 })(CONTROL)).serving[0]?.scale).toBe(1);
  });

  it('names the least that one more control has to do otherwise', () => {
    const other = background(touch('digest', { reagentLot: 'K-2' })(CONTROL));
    expect(mendSentence('S1', other)).toBe(
      'Run S1 has no background of its own and is left out: the reagent may explain its particles. One act control more like C1, but with the reagent lot “K-1” at “digest”, closes this.',
    );
  });
});

describe('steps of the control that closes a gap', () => {
  const mended = (control: readonly Step[]) => mendingSteps(RUN, control, PRODUCT);

  it.each(
    PLANTED.filter(([, change]) => {
      const found = differences(compare(change(CONTROL)));
      return (
        found.some((line) => / different,/.test(line)) &&
        !found.some((line) => /missing|extra|other order/.test(line))
      );
    }),
  )('after “%s” are the control’s with that one thing as in the run', (_, change) => {
    const steps = mended(change(CONTROL))!;
    const { serving } = coverRun(
      RUN,
      [{ runs: ['C' as RunId], name: 'C', kind: 'act-control', steps }],
      PRODUCT,
    ).background;
    expect(serving).toHaveLength(1);
    expect(steps.map(({ key }) => key)).toEqual(change(CONTROL).map(({ key }) => key));
  });

  it('are left to a person where a step is missing', () => {
    expect(mended(without('digest')(CONTROL))).toBeNull();
  });
});
