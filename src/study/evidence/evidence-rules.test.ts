import { describe, expect, it } from 'vitest';
import {
  type BlindRound,
  type Call,
  type CardSide,
  type DrillAnswer,
  disputed,
  drillRates,
  enoughForClaim,
  type FoundPoint,
  fieldsAgreement,
  type Guess,
  inForce,
  type KeyCard,
  type KnownPiece,
  type KnownSet,
  latestReadings,
  looksOf,
  populationsOf,
  progressOf,
  type Reading,
  type RoundEvent,
  resolve,
  resolvedCards,
  roundAgreement,
  scorerOutcome,
  sealOf,
  showingsFor,
  sizeStep,
  stateOfRound,
  strataByLooks,
} from '../index.ts';

const ADA = 'ada' as never;
const BEN = 'ben' as never;
const EVE = 'eve' as never;

const card = (code: string, side: CardSide, more: Partial<KeyCard> = {}): KeyCard => ({
  code,
  particle: `particle ${code}` as never,
  photo: 'photo' as never,
  centrePx: [100, 100],
  widthPx: 80,
  widthUm: 400,
  side,
  piece: null,
  turnDeg: 30,
  mirrored: false,
  guess: false,
  again: false,
  ...more,
});

const round = (key: readonly KeyCard[], more: Partial<BlindRound> = {}): BlindRound => ({
  id: 'round' as never,
  study: 'study' as never,
  name: 'R',
  what: 'pieces',
  scorers: [ADA, BEN],
  third: EVE,
  knownSet: null,
  guessShare: 0,
  againShare: 0,
  seed: 3,
  key,
  keyHash: '',
  by: ADA,
  at: '2026-01-05T09:00:00.000Z' as never,
  ...more,
});

const reading = (code: string, by: never, called: Call | null, more: Partial<Reading> = {}): Reading => ({
  id: `${code} ${by}` as never,
  round: 'round' as never,
  code,
  pass: 1,
  called,
  points: null,
  guess: null,
  by,
  at: '2026-01-05T10:00:00.000Z' as never,
  ...more,
});
const event = (deed: RoundEvent['deed'], by: never): RoundEvent => ({
  id: deed as never,
  round: 'round' as never,
  deed,
  says: '',
  by,
  at: '2026-01-05T11:00:00.000Z' as never,
});

describe('a blinded round', () => {
  const key = [card('AA', 'specimen'), card('BB', 'control'), card('CC', 'specimen'), card('DD', 'control')];
  const said = latestReadings([
    reading('AA', ADA, 'plastic'),
    reading('AA', BEN, 'plastic'),
    reading('BB', ADA, 'plastic'),
    reading('BB', BEN, 'other'),
    reading('BB', EVE, 'other'),
    reading('CC', ADA, 'cannot-tell'),
    reading('CC', BEN, 'cannot-tell'),
    reading('DD', ADA, 'other'),
    reading('DD', BEN, 'plastic'),
    reading('DD', EVE, 'cannot-tell'),
  ]);

  it('resolves: agreed, by the third, else undecided', () => {
    const of = (code: string) => resolve(round(key), key.find((one) => one.code === code)!, said);
    expect(of('AA')).toEqual({ call: 'plastic', how: 'agreed' });
    expect(of('BB')).toEqual({ call: 'other', how: 'third' });
    // both could not tell: that is no agreement on what it is
    expect(of('CC')).toEqual({ call: 'undecided', how: 'split' });
    expect(of('DD')).toEqual({ call: 'undecided', how: 'split' });
    expect(disputed(round(key), said).map((one) => one.code)).toEqual(['BB', 'CC', 'DD']);
    const alone = round(key, { scorers: [ADA], third: null });
    expect(resolve(alone, key[1]!, said)).toEqual({ call: 'plastic', how: 'alone' });
  });

  it('shows the third nothing before both have locked, then only what is disputed', () => {
    const before = stateOfRound([event('lock', ADA)]);
    const after = stateOfRound([event('lock', ADA), event('lock', BEN)]);
    expect(showingsFor(round(key), EVE, before, said)).toEqual([]);
    expect(
      showingsFor(round(key), EVE, after, said)
        .map((one) => one.code)
        .sort(),
    ).toEqual(['BB', 'CC', 'DD']);
    expect(showingsFor(round(key), 'stranger' as never, after, said)).toEqual([]);
    expect(progressOf(round(key), EVE, after, said)).toMatchObject({ done: 2, of: 3, locked: false });
  });

  it('the last reading of a showing stands', () => {
    const latest = latestReadings([reading('AA', ADA, 'plastic'), reading('AA', ADA, 'other')]);
    expect(latest.of('AA', ADA)?.called).toBe('other');
    expect(latest.of('AA', ADA, 2)).toBeNull();
  });

  it('is sealed by every line of its key', () => {
    const sealed = sealOf({ id: 'round' as never, seed: 3, key });
    expect(sealed).toMatch(/^[0-9a-f]{64}$/);
    for (const change of [
      { side: 'control' as const },
      { turnDeg: 31 },
      { mirrored: true },
      { piece: 'K1' },
    ]) {
      const other = [{ ...key[0]!, ...change }, ...key.slice(1)];
      expect(sealOf({ id: 'round' as never, seed: 3, key: other })).not.toBe(sealed);
    }
    expect(sealOf({ id: 'round' as never, seed: 4, key })).not.toBe(sealed);
  });

  it('gives the agreement of a published table: 88 14 18 / 10 40 10 / 2 6 12 → kappa 0.492 (Cohen 1960, table 2)', () => {
    const table = [
      [88, 14, 18],
      [10, 40, 10],
      [2, 6, 12],
    ];
    const calls: Call[] = ['plastic', 'other', 'cannot-tell'];
    const cards: KeyCard[] = [];
    const readings: Reading[] = [];
    table.forEach((row, i) => {
      row.forEach((n, j) => {
        for (let k = 0; k < n; k++) {
          const code = `${i}${j}${k}`;
          cards.push(card(code, 'specimen'));
          readings.push(reading(code, ADA, calls[i]!), reading(code, BEN, calls[j]!));
        }
      });
    });
    const found = roundAgreement(round(cards), latestReadings(readings), new Map())!;
    expect(found.kappa!.value).toBeCloseTo(0.492, 3);
    expect(found.kappa!.word).toBe('moderate');
    expect(found.table).toEqual(table);
    expect(found.same).toBe(140);
    // called plastic by the first 120, the second 100, both 88: Chapman 121 · 101 / 89 − 1
    expect(found.found).toMatchObject({ first: 120, second: 100, both: 88 });
    expect(found.found.estimate.value).toBeCloseTo((121 * 101) / 89 - 1, 9);
  });

  it('has no kappa when one call was used for all, and says nothing with one scorer', () => {
    const same = latestReadings(
      key.flatMap(({ code }) => [reading(code, ADA, 'plastic'), reading(code, BEN, 'plastic')]),
    );
    expect(roundAgreement(round(key), same, new Map())).toMatchObject({ kappa: null, same: 4 });
    expect(roundAgreement(round(key, { scorers: [ADA] }), same, new Map())).toBeNull();
  });

  it('counts guesses, repeats and slipped pieces of each scorer; known pieces are no guess', () => {
    const cards = [
      ...Array.from({ length: 4 }, (_, k) => card(`S${k}`, 'specimen', { guess: true, again: k === 0 })),
      ...Array.from({ length: 4 }, (_, k) => card(`C${k}`, 'control', { guess: true })),
      card('K0', 'known', { piece: 'P1', guess: true }),
      card('K1', 'known', { piece: 'N1' }),
    ];
    const guess = (side: string): Guess => (side === 'S' ? 'specimen' : 'control');
    const readings = latestReadings([
      ...cards.map(({ code }) => reading(code, ADA, 'plastic', { guess: guess(code[0]!) })),
      reading('S0', ADA, 'other', { pass: 2 }),
    ]);
    const known = new Map([
      ['P1', { class: 'thermoplastic' } as KnownPiece],
      ['N1', { class: 'mineral' } as KnownPiece],
    ]);
    const found = scorerOutcome(round(cards), ADA, readings, known);
    expect(found.leak).toMatchObject({ guessed: 8, right: 8, leaked: true });
    expect(found.leak.p).toBeCloseTo(1 / 70, 12);
    expect(found.repeats).toEqual({ pictures: 1, same: 0 });
    expect([found.knownPlastic, found.knownOthers]).toEqual([
      { k: 1, n: 1 },
      { k: 1, n: 1 },
    ]);
  });

  it('matches pieces found on fields by place', () => {
    const fields = [card('F1', 'specimen', { particle: null }), card('F2', 'control', { particle: null })];
    const point = (
      x: number,
      y: number,
      called: Call = 'plastic',
      length: number | null = null,
    ): FoundPoint => ({
      x,
      y,
      called,
      length,
    });
    const readings = latestReadings([
      reading('F1', ADA, null, {
        points: [point(0.2, 0.2, 'plastic', 0.2), point(0.5, 0.5, 'plastic', 0.1), point(0.8, 0.8)],
      }),
      reading('F1', BEN, null, {
        points: [point(0.21, 0.2, 'plastic', 0.1), point(0.5, 0.52, 'cannot-tell', 0.05)],
      }),
      reading('F2', ADA, null, { points: [] }),
      reading('F2', BEN, null, { points: [point(0.4, 0.4)] }),
    ]);
    const found = fieldsAgreement(round(fields, { what: 'fields' }), readings)!;
    expect(found).toMatchObject({ fields: 2, first: 3, second: 3, both: 2, overlap: 0.5 });
    expect(found.estimate.value).toBeCloseTo((4 * 4) / 3 - 1, 9);
    expect(found.table[0]).toEqual([1, 0, 1]);
    // twice as long on both pieces: the limits close in on the ratio
    expect(found.sizes).toMatchObject({ pairs: 2 });
    for (const ratio of [found.sizes!.ratio, found.sizes!.lower, found.sizes!.upper])
      expect(ratio).toBeCloseTo(2, 9);
    expect(fieldsAgreement(round(fields), readings)).toBeNull();
    expect(resolvedCards(round(fields, { what: 'fields' }), readings)).toEqual([]);
  });

  it('compares populations by run, known pieces left out', () => {
    const cards = ['a', 'b', 'c', 'd', 'e', 'f'].flatMap((run, r) =>
      Array.from({ length: 6 }, (_, k) => card(`${run}${k}`, r < 3 ? 'specimen' : 'control')),
    );
    const facts = new Map(
      cards.map(({ code, side }) => [
        code,
        { run: code[0]!, sizeUm: side === 'specimen' ? 400 : 120, shape: 'fragment', colour: 'white' },
      ]),
    );
    const resolved = cards.map((one) => ({ card: one, call: 'plastic' as const, how: 'agreed' as const }));
    const found = populationsOf(resolved, facts)!;
    expect(found.find((one) => one.what === 'size')).toMatchObject({ distance: 1, p: 2 / 20 });
    expect(found.find((one) => one.what === 'colour')).toMatchObject({ distance: 0, p: 1 });
  });
});

describe('drills', () => {
  const piece = (key: string, material: KnownPiece['class'], sizeUm: number | null): KnownPiece => ({
    key,
    material,
    class: material,
    shape: 'fragment',
    colour: 'white',
    sizeUm: sizeUm as never,
    particle: null,
  });
  const set: KnownSet = {
    id: 'set' as never,
    study: 'study' as never,
    name: 'S',
    made: '',
    pieces: [
      piece('P', 'thermoplastic', 150),
      piece('R', 'thermoset-or-rubber', 50),
      piece('V', 'semi-synthetic', 2000),
      piece('W', 'wax-or-fat', null),
    ],
    by: ADA,
    at: '2026-01-05T09:00:00.000Z' as never,
  };
  const answer = (of: string, called: Call, more: Partial<DrillAnswer> = {}): DrillAnswer => ({
    id: `${of} ${called}` as never,
    study: 'study' as never,
    set: 'set' as never,
    piece: of,
    test: 'by-eye',
    called,
    announced: true,
    by: ADA,
    at: '2026-01-05T09:00:00.000Z' as never,
    ...more,
  });

  it('counts plastics and others, exact intervals beside (45 of 50: 0.7819 to 0.9667, Newcombe 1998)', () => {
    const plastics = Array.from({ length: 50 }, (_, k) => answer('P', k < 45 ? 'plastic' : 'other'));
    const rates = drillRates([set], [...plastics, answer('W', 'cannot-tell')]);
    expect(rates.plastic).toMatchObject({ k: 45, n: 50 });
    expect(rates.plastic.rate!.lower).toBeCloseTo(0.7819, 4);
    expect(rates.plastic.rate!.upper).toBeCloseTo(0.9667, 4);
    expect(rates.others).toMatchObject({ k: 0, n: 1, cannotTell: 1 });
    expect(enoughForClaim(rates)).toBe(false);
  });

  it('parts by class, size, day and announcement; an empty part has no rate', () => {
    const rates = drillRates(
      [set],
      [
        answer('P', 'plastic'),
        answer('R', 'other'),
        answer('V', 'plastic', { at: '2026-01-06T09:00:00.000Z' as never }),
        answer('W', 'other', { announced: false }),
        answer('P', 'other'),
        answer('gone', 'plastic'),
      ],
    );
    expect(rates.byClass.map((one) => one.class)).toEqual([
      'thermoplastic',
      'thermoset-or-rubber',
      'semi-synthetic',
      'wax-or-fat',
    ]);
    expect(rates.bySize.map((part) => part.name)).toEqual([
      '100 to 300 µm',
      'below 100 µm',
      '1000 µm and more',
      'size not known',
    ]);
    expect(rates.byDay.map((part) => part.name)).toEqual(['2026-01-05', '2026-01-06']);
    expect(rates.slippedIn.plastic).toMatchObject({ n: 0, rate: null });
    expect(rates.contradicts).toEqual(['P']);
    // semi-synthetic cellulose is no plastic here
    expect(rates.others.k).toBe(1);
  });

  it('names sizes', () => {
    expect([null, 99, 100, 300, 1000].map(sizeStep)).toEqual([
      'size not known',
      'below 100 µm',
      '100 to 300 µm',
      '300 to 1000 µm',
      '1000 µm and more',
    ]);
  });
});

describe('what stands', () => {
  it('an undo takes back, an undo of the undo brings back', () => {
    const records = [{ id: 'a' }, { id: 'b' }];
    const undo = (id: string, undoes: string) => ({ id, undoes, study: 's', by: 'p', at: 't' }) as never;
    expect(inForce(records, [undo('u1', 'a')])).toEqual([{ id: 'b' }]);
    expect(inForce(records, [undo('u1', 'a'), undo('u2', 'u1')])).toEqual(records);
  });
});

describe('strata', () => {
  const particle = (
    id: string,
    shapeNow: string,
    colourNow: string,
    feretMaxUm: number,
    side: 'specimens' | 'controls',
  ) => ({ id, shapeNow, colourNow, feretMaxUm, side }) as never;

  it('hold every piece once, sides apart, small ones together', () => {
    const particles = [
      ...Array.from({ length: 8 }, (_, k) => particle(`f${k}`, 'fibre', 'blue', 800, 'specimens')),
      ...Array.from({ length: 6 }, (_, k) => particle(`g${k}`, 'fragment', 'white', 150, 'specimens')),
      particle('h', 'film', 'clear', 500, 'specimens'),
      particle('i', 'foam', 'yellow', 500, 'specimens'),
      particle('c', 'fibre', 'blue', 800, 'controls'),
    ];
    const strata = strataByLooks(particles);
    expect(strata.map(({ side, name, pieces }) => [side, name, pieces.length])).toEqual([
      ['specimens', 'fibres, 300 µm and more, coloured', 8],
      ['specimens', 'pieces, below 300 µm, clear or white', 6],
      ['specimens', 'others', 2],
      ['controls', 'fibres, 300 µm and more, coloured', 1],
    ]);
    expect(looksOf({ shapeNow: 'film', colourNow: 'clear', feretMaxUm: null })).toBe(
      'pieces, size not known, clear or white',
    );
  });
});
