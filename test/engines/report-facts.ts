/** Facts of a small invented report, with names that would be markup or formulas. */

import type { ReportFacts, ReportPiece, ReportRun } from '../../src/report/index.ts';
import { judge } from '../../src/science/counting/index.ts';
import {
  balanceOf,
  COUNTS_ALONE,
  type CountedPiece,
  categoriesOf,
  claimFrom,
  massOf,
  type Specimen,
  type Step,
  type Study,
  sidesOf,
  sizesOf,
  type Weighing,
} from '../../src/study/index.ts';
import { done } from '../../src/units/index.ts';

/** A name that would be markup, a formula or the end of a script, wherever it is printed unescaped. */
export const EVIL =
  '=cmd|\'/c calc\'!A1 <script>alert(1)</script> </script><img src=x onerror=alert(1)> "q" & *b*';
const COUNTS = { specimens: [14, 11, 12, 15, 10, 13], controls: [3, 2, 4, 1, 2, 3] };

const piece = (run: string, number: number): ReportPiece => ({
  id: `${run}-${number}`,
  run,
  filter: run,
  photo: `${run}.jpg`,
  number,
  feretMaxUm: 150 + number,
  feretMinUm: 80,
  areaUm2: 9000,
  shape: number % 3 === 0 ? 'fibre' : 'fragment',
  colour: 'blue',
  standing: 'kept',
});

const step: Step = {
  key: 'digest',
  kind: 'digest',
  quantities: { temperature_c: 40 },
  touches: {
    vessel: null,
    tool: null,
    liquid: 'potassium hydroxide 10 %',
    reagentLot: EVIL,
    place: null,
    person: null,
    filterLot: null,
    optics: null,
  },
  minutesUncovered: 2,
  openings: null,
  note: EVIL,
};

export function facts(name = 'Small study', shapes: Study['question']['shapes'] = []): ReportFacts {
  const study = {
    id: 's',
    name,
    invented: true,
    question: {
      product: name,
      act: 'cut',
      durationMin: 5,
      liquid: 'water',
      sizeFromUm: 100,
      sizeToUm: null,
      unit: 'particles per gram',
      countsAs: name,
      shapes,
      colours: [],
      decision: { confidence: 0.95, matters: null },
    },
    madeAt: '2026-03-01T09:00:00.000Z',
    by: 'p',
  } as unknown as Study;
  const run = (kind: ReportRun['kind'], at: number, count: number): ReportRun => ({
    id: `${kind}-${at}`,
    name: `${kind}-${at}`,
    kind,
    day: '2026-03-01',
    operator: EVIL,
    specimen: kind === 'specimen' ? name : null,
    massG: kind === 'specimen' ? 1 : null,
    massIs: kind === 'specimen' ? 'food-or-liquid' : null,
    edition: 'P1',
    passed: 1,
    examined: 1,
    extent: { passed: 0, photographed: 0, counted: 0, together: 0 },
    count,
    kept: count,
    unmarked: 0,
    dropped: 0,
    floorUm: 30,
    added: null,
    recovered: null,
    inBackground: kind === 'act-control',
    leftOut: false,
    note: EVIL,
    filters: [
      {
        id: 'f',
        name: EVIL,
        material: EVIL,
        poreUm: 20,
        diameterMm: 35,
        pitchMm: 3.1,
        lot: '',
        count,
        photos: 1,
        searched: 1,
        searchedMm2: 900,
      },
    ],
    fractions: [{ kind: 'passed', volumeMl: 200, place: EVIL, fate: 'kept', note: '' }],
  });
  const runs = [
    ...COUNTS.specimens.map((count, at) => run('specimen', at, count)),
    ...COUNTS.controls.map((count, at) => run('act-control', at, count)),
    { ...run('reagent-blank', 9, 0), count: null, examined: null },
  ];
  const input = {
    portions: COUNTS.specimens.map((count, at) => ({
      name: `specimen-${at}`,
      count,
      massG: 1,
      passed: 1,
      examined: 1,
    })),
    controls: COUNTS.controls.map((count, at) => ({
      name: `act-control-${at}`,
      kind: 'act-control',
      count,
      passed: 1,
      examined: 1,
    })),
    recovery: null,
    drill: null,
    confidence: 0.95,
  };
  const judged = judge(input, { seed: 20_260_101 });
  if (!judged.ok) throw new Error(judged.refusal.message);
  const pieces = runs.flatMap((one) =>
    Array.from({ length: one.count ?? 0 }, (_, i) => piece(one.name, i + 1)),
  );
  return {
    laboratory: name,
    program: 'Retentate 0',
    madeAt: '2026-03-02T10:00:00.000Z',
    study,
    sizeFromUm: 100,
    falseFinds: [{ asked: 0.5, photos: 3, own: null }],
    specimens: [
      {
        specimen: { id: 'x', name, maker: '', lot: '', age: '', material: '' } as unknown as Specimen,
        claim: claimFrom(judged, COUNTS_ALONE),
        judged: judged.value,
        input: {
          input,
          background: 'act-control',
          serving: [],
          spikes: [],
          leftOut: [],
          heldOut: [],
          notes: [],
        },
        facts: COUNTS_ALONE,
      },
    ],
    heldBack: [],
    robustness: null,
    behind: null,
    published: [],
    evidence: { drills: [], confirmed: [] },
    rounds: [],
    checklist: {
      items: [
        {
          id: 'Q1',
          asks: name,
          severity: 'blocks',
          anchor: 'Cowger 2020',
          place: 'question',
          state: 'missing',
          says: name,
        },
      ],
      missing: { blocks: 1, weakens: 0, note: 0 },
      next: [],
    },
    scores: [
      { name: 'a score', criteria: [{ name, score: 0, because: name }], total: 0, most: 2, anyNought: true },
    ],
    runs,
    coverage: [
      {
        runs: [name],
        judged: true,
        sentence: name,
        steps: ['digest'],
        threads: [{ control: name, grades: ['same'], serves: true, changes: [] }],
        open: [],
      },
    ],
    procedures: [
      { name, number: 1, because: name, steps: [step], runs: ['specimen-0'], kinds: ['specimen'] },
    ],
    withdrawals: [
      {
        at: '2026-03-01T09:00:00.000Z',
        what: 'run',
        name: EVIL,
        withdrawn: true,
        why: EVIL,
        countOpen: true,
        counted: 3,
        by: EVIL,
      },
    ],
    moves: [
      { at: '2026-03-01T09:00:00.000Z', photo: EVIL, to: null, why: EVIL, by: EVIL },
      { at: '2026-03-01T09:05:00.000Z', photo: EVIL, to: EVIL, why: EVIL, by: EVIL },
    ],
    deviations: [
      { at: '2026-03-01T09:00:00.000Z', runs: [name], kind: 'changed', step: 'digest', what: name, why: '' },
    ],
    photos: [
      {
        name,
        run: 'specimen-0',
        filter: 'f',
        sha256: 'a'.repeat(64),
        widthPx: 100,
        heightPx: 100,
        umPerPx: 4,
        floorUm: 30,
        refusal: null,
        method: 'classical 1',
      },
    ],
    pieces,
    pictures: [{ piece: pieces[0]!, image: 'data:image/jpeg;base64,AAAA', widthUm: 300 }],
  };
}

/** What lies behind the claim of these facts, the pieces sorted by the same functions as on the screens. */
export function withBehind(name: string): ReportFacts {
  const base = facts(name);
  const [first] = base.specimens;
  const pieces = base.pieces.map(({ run, feretMaxUm, feretMinUm, areaUm2, shape, colour }) => ({
    run,
    photo: 'photo' as CountedPiece['photo'],
    particle: {
      shapeNow: shape,
      colourNow: colour,
      feretMaxUm,
      feretMinUm,
      areaUm2,
      fibreLengthUm: shape === 'fibre' ? feretMaxUm : null,
      fibreWidthUm: shape === 'fibre' ? 20 : null,
      standing: 'kept',
    } as CountedPiece['particle'],
  }));
  const sides = sidesOf(pieces, first!.input);
  const mass = massOf(sides, 100, 0.95);
  const weighing = { beforeG: 10.0005, afterG: 10, uncertaintyG: 0.0001 } as Weighing;
  return {
    ...base,
    behind: {
      categories: categoriesOf(sides, first!.input),
      sizes: sizesOf(sides, first!.input, 100),
      mass,
      balance: balanceOf([{ name: 'specimen-0', weighing, massG: 1 }], [name], done(first!.judged!), mass),
      comparisons: [
        {
          kind: 'ratio',
          title: `${name} against another`,
          sentence: `${name} releases 3 times as much per gram.`,
          value: 3,
          lower: 2,
          upper: null,
          confidence: 0.95,
          p: null,
          unit: 'times as much per gram',
          refusal: null,
          source: 'Zou & Donner 2008',
        },
      ],
      history: [
        {
          study: name,
          kind: 'act-control',
          serves: true,
          runs: [
            { name, count: 3, passed: 0.5, examined: 1 },
            { name, count: 5, passed: 1, examined: 1 },
          ],
        },
      ],
    },
  };
}
