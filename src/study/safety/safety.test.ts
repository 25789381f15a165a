import { describe, expect, it } from 'vitest';
import type { Edition, Step } from '../records/procedure.ts';
import {
  cautionsOf,
  cautionsOfAll,
  DANGEROUS_PAIRS,
  hazardLine,
  SAFETY_FIELDS,
  type SafetyAnswers,
  safetyGate,
  stepsInForce,
  stopsIn,
  substancesIn,
  unknownLiquid,
} from './index.ts';

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
let n = 0;
const step = (kind: string, given: Partial<Step['touches']> & { t?: number; note?: string } = {}): Step => {
  const { t, note, ...touches } = given;
  n++;
  return {
    key: `${kind}-${n}`,
    kind,
    quantities: t === undefined ? {} : { temperature_c: t },
    touches: { ...NOTHING, ...touches },
    minutesUncovered: null,
    openings: null,
    note: note ?? '',
  };
};
const ANSWERS: SafetyAnswers = Object.fromEntries(
  SAFETY_FIELDS.map((field) => [field, 'settled with A. Person']),
);

describe('substances', () => {
  it.each([
    ['30 % H2O2, lot 7', ['peroxide']],
    ['10 % KOH', ['alkali']],
    ['acetone rinse', ['solvent']],
    ['household bleach', ['hypochlorite']],
    ['mixed cellulose ester 0.8 µm', ['nitrocellulose']],
    ['water, filtered', []],
    ['cover with a watch glass, never sealed', []],
    ['without acetone', []],
    ['Fenton reagent', ['peroxide', 'iron']],
    ['sodium percarbonate', ['peroxide']],
    ['oxygen bleach', ['peroxide']],
    ['soldering iron', ['hot-needle']],
    ['iron(II) sulfate', ['iron']],
    ['drain cleaner', ['alkali']],
    ['caustic soda', ['alkali']],
    ['descaler', ['acid']],
    ['lemon juice', ['acid']],
    ['javel water', ['hypochlorite']],
    ['toilet cleaner', ['toilet-cleaner']],
    ['window cleaner', ['ammonia']],
    ['ammonia-free', []],
    ['alcohol free wipes', []],
    ['nail polish remover', ['solvent']],
    ['THF', ['solvent']],
    ['MEK', ['solvent']],
    ['IPA', ['solvent']],
    ['methylated spirit', ['solvent']],
    ['rubbing alcohol', ['solvent']],
    ['petroleum ether', ['solvent']],
    ['CHCl3', ['chlorinated']],
    ['KI', ['iodide']],
    ['kitchen foil', ['aluminium']],
    ['Bunsen', ['flame']],
    ['heat gun', ['flame']],
    ['lighter', ['flame']],
    ['suck the lolly', ['mouth']],
    ['sucked through the funnel by hand', []],
    ['drinking water', []],
    ['lid closed tightly', ['sealed']],
    ['screw-capped tube', ['sealed']],
  ])('%s', (text, found) => {
    expect(substancesIn(text)).toEqual(found);
  });
});

describe('dangerous pairs', () => {
  const brings: Readonly<Record<string, string>> = {
    peroxide: 'hydrogen peroxide',
    solvent: 'acetone',
    chlorinated: 'chloroform',
    alkali: 'KOH',
    iodide: 'sodium iodide',
    sealed: 'screw cap',
    hypochlorite: 'bleach',
    acid: 'citric acid',
    ammonia: 'ammonia',
    flame: 'burner flame',
    nitrocellulose: 'cellulose nitrate filter',
    'hot-needle': 'hot needle',
    aluminium: 'aluminium foil',
    'toilet-cleaner': 'toilet cleaner',
    mouth: 'chew for a minute',
    'laboratory-glass': 'beaker',
  };

  it.each(DANGEROUS_PAIRS.map((pair) => [pair.a, pair.b] as const))(
    '%s with %s is stopped in one step',
    (a, b) => {
      const stops = stopsIn([step('soak', { note: `${brings[a]}, then ${brings[b]}` })]);
      expect(stops.some((stop) => stop.why === 'dangerous-pair')).toBe(true);
      expect(stops[0]!.message.length).toBeGreaterThan(40);
    },
  );

  it('meets across steps of a session, where that is enough', () => {
    const two = stopsIn([step('digest', { liquid: 'peroxide 30 %' }), step('rinse', { liquid: 'ethanol' })]);
    expect(two).toHaveLength(1);
    expect(two[0]!.steps).toHaveLength(2);
    // Alkali and peroxide one after the other, rinsed between, are not stopped.
    expect(
      stopsIn([step('digest', { liquid: 'KOH' }), step('rinse'), step('digest', { liquid: 'peroxide' })]),
    ).toEqual([]);
  });

  it('peroxide with iron from 50 °C on can run away', () => {
    expect(stopsIn([step('digest', { liquid: 'Fenton reagent', t: 75 })])[0]!.why).toBe('runaway');
    expect(stopsIn([step('digest', { liquid: 'Fenton reagent', t: 38 })])).toEqual([]);
  });

  it('water, sieve and filter are not stopped', () => {
    expect(stopsIn([step('rinse', { liquid: 'filtered water' }), step('sieve'), step('filter')])).toEqual([]);
  });
});

describe('cautions', () => {
  it('come from kind, touch and temperature', () => {
    expect(cautionsOf(step('filter')).map((one) => one.about)).toEqual(['vacuum']);
    expect(cautionsOf(step('cut')).map((one) => one.about)).toEqual(['blade']);
    expect(cautionsOf(step('dry', { t: 60 })).map((one) => one.about)).toEqual(['oven']);
    expect(cautionsOf(step('digest', { liquid: 'Fenton', t: 38 })).map((one) => one.about)).toEqual(['iron']);
    expect(cautionsOf(step('photograph'))).toEqual([]);
  });
  it('ask about a liquid that is on no list, by its name', () => {
    const known = ['filtered water at 95 °C', 'green tea', 'NaCl brine', 'KOH 10 %', 'saliva', 'apple juice'];
    for (const liquid of known) expect(unknownLiquid(liquid)).toBeNull();
    const unknown = [
      'potassium permanganate',
      'mixture 7',
      'cleaner in the blue bottle',
      'sodium polytungstate',
    ];
    for (const liquid of unknown) {
      const gate = safetyGate([step('rinse', { liquid })], {});
      expect(gate.missing).toEqual(SAFETY_FIELDS);
      expect(gate.cautions.map(({ message }) => message).join()).toContain(liquid);
    }
    expect(safetyGate([step('rinse', { vessel: 'beaker' })], {}).ready).toBe(true);
  });
  it('of a procedure stand once, grave ones first', () => {
    const all = cautionsOfAll([step('filter'), step('filter'), step('digest', { liquid: 'KOH' })]);
    expect(all.map((one) => one.about)).toEqual(['alkali', 'vacuum']);
  });
});

describe('the steps in force', () => {
  const edition = (procedure: string, number: number, ...steps: Step[]): Edition =>
    ({ id: `${procedure}-${number}`, procedure, number, steps }) as unknown as Edition;
  const [peroxide, acetone, water] = ['hydrogen peroxide', 'acetone', 'water'].map((liquid) =>
    step('rinse', { liquid }),
  ) as [Step, Step, Step];
  const stops = (editions: Edition[], open: Step[][] = []) => stopsIn(stepsInForce(editions, open)).length;

  it('are those of the newest edition of every procedure, controls too', () => {
    expect(stops([edition('run', 1, peroxide), edition('control', 1, acetone)])).toBe(1);
    expect(stops([edition('run', 1, peroxide, acetone), edition('run', 2, peroxide, water)])).toBe(0);
    expect(stops([edition('run', 2, peroxide, water), edition('run', 1, peroxide, acetone)])).toBe(0);
  });
  it('and what open runs do otherwise', () => {
    expect(stops([edition('run', 1, peroxide)], [[peroxide, acetone]])).toBe(1);
  });
  it('put what can hurt on a label', () => {
    expect(hazardLine([peroxide, water])).toBe('Mind: peroxide. Safety data sheets first.');
    expect(hazardLine([water])).toBeNull();
  });
});

describe('the gate', () => {
  const digest = [step('digest', { liquid: 'hydrogen peroxide', t: 38 }), step('filter')];

  it('is not ready until all six fields are filled', () => {
    expect(safetyGate(digest, {}).missing).toEqual(SAFETY_FIELDS);
    for (const field of SAFETY_FIELDS) {
      const gate = safetyGate(digest, { ...ANSWERS, [field]: '  ' });
      expect(gate.ready).toBe(false);
      expect(gate.missing).toEqual([field]);
    }
    expect(safetyGate(digest, ANSWERS).ready).toBe(true);
  });

  it('is not ready with a stop, whatever is filled in', () => {
    const gate = safetyGate([...digest, step('rinse', { liquid: 'acetone' })], ANSWERS);
    expect(gate.ready).toBe(false);
    expect(gate.sentence).toMatch(/^Stopped/);
  });

  it('asks little of water and a pump, and nothing of water alone', () => {
    expect(safetyGate([step('filter')], {}).missing).toEqual(['protection', 'supervision']);
    expect(safetyGate([step('rinse', { liquid: 'water' }), step('photograph')], {}).ready).toBe(true);
  });
});
