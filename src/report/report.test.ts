import { describe, expect, it } from 'vitest';
import { judge } from '../science/counting/index.ts';
import {
  balanceOf,
  COUNTS_ALONE,
  categoriesOf,
  claimFrom,
  type MeasuredParticle,
  massOf,
  type Specimen,
  type Step,
  type Study,
  sidesOf,
  sizesOf,
  type Weighing,
} from '../study/index.ts';
import { done } from '../units/index.ts';
import {
  buildReport,
  csvCell,
  csvFiles,
  htmlOf,
  markdownOf,
  type ReportFacts,
  type ReportPiece,
  type ReportRun,
  recount,
  recountData,
} from './index.ts';
import { base64OfHex, jsonInHtml } from './render/html.ts';
import { barFor } from './sections/pieces.ts';

/** What lies behind the claim of these facts, the pieces sorted by the same functions as on the screens. */
function withBehind(name: string): ReportFacts {
  const base = facts(name);
  const [first] = base.specimens;
  const pieces = base.pieces.map(({ run, feretMaxUm, feretMinUm, areaUm2, shape, colour }) => ({
    run,
    particle: {
      shapeNow: shape,
      colourNow: colour,
      feretMaxUm,
      feretMinUm,
      areaUm2,
      fibreLengthUm: shape === 'fibre' ? feretMaxUm : null,
      fibreWidthUm: shape === 'fibre' ? 20 : null,
      standing: 'kept',
    } as unknown as MeasuredParticle,
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

/** A name that would be markup, a formula or the end of a script, wherever it is printed unescaped. */
const EVIL = '=cmd|\'/c calc\'!A1 <script>alert(1)</script> </script><img src=x onerror=alert(1)> "q" & *b*';
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

function facts(name = 'Small study', shapes: Study['question']['shapes'] = []): ReportFacts {
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
    specimens: [
      {
        specimen: { id: 'x', name, maker: '', lot: '', age: '', material: '' } as unknown as Specimen,
        claim: claimFrom(judged, COUNTS_ALONE),
        judged: judged.value,
        input: { input, background: 'act-control', serving: [], spikes: [], leftOut: [], notes: [] },
        facts: COUNTS_ALONE,
      },
    ],
    heldBack: [],
    robustness: null,
    behind: null,
    published: [],
    evidence: { drills: [], confirmed: [] },
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

describe('the report', () => {
  const report = buildReport(facts());

  it('holds the claim, the runs, controls, filters, pieces, record, methods, checklist, cautions and sources', () => {
    expect(report.sections.map((section) => section.id)).toEqual([
      'claim',
      'question',
      'runs',
      'controls',
      'filters',
      'pieces',
      'evidence',
      'rests-on',
      'record',
      'methods',
      'rules',
      'checklist',
      'cautions',
      'sources',
    ]);
  });

  it('sorts the pieces by kind and size, weighs them, asks other questions and names the controls before', () => {
    const told = buildReport(withBehind('Small study'));
    expect(told.sections.map((section) => section.id)).toEqual(
      expect.arrayContaining(['parts', 'mass', 'other-questions', 'rests-on']),
    );
    const text = markdownOf(told);
    expect(text).toContain('ISO 24187:2023');
    expect(text).toContain('(EU) 2024/1441');
    expect(text).toMatch(/Fragment, blue, .*: \d+ with the product, \d+ on controls/);
    expect(text).toMatch(/All together: 75 with the product, 15 on controls/);
    expect(text).toMatch(/could not have been seen/);
    expect(text).toMatch(/µg/);
    expect(text).toContain('Not weighed');
    expect(text).toContain('times as much per gram');
    expect(text).toContain('6, 5');
    const nets = csvFiles(withBehind('Small study')).find((file) => file.name === 'kinds.csv')!.text;
    const rows = nets.trim().split('\r\n').slice(1);
    const counted = rows.reduce((sum, row) => sum + Number(row.split(',').at(-7)), 0);
    expect(counted).toBe(75);
  });

  it('leaves a size band that could not be seen empty in its tables', () => {
    const text = csvFiles(withBehind('Small study')).find((file) => file.name === 'sizes.csv')!.text;
    const unseen = text.split('\r\n').find((line) => line.includes('could-not-be-seen'))!;
    expect(unseen.split(',').slice(4, 6)).toEqual(['', '']);
  });

  it('says the claim in the words of the program, and that all is invented', () => {
    const html = htmlOf(report, null);
    expect(html).toContain('Everything in this study is invented');
    expect(markdownOf(report)).toContain('> ');
    const [claim] = report.sections;
    expect(claim!.blocks[0]).toEqual({ kind: 'claim', text: facts().specimens[0]!.claim.sentence });
  });

  it('never prints a run that nobody looked at as nought', () => {
    const html = htmlOf(report, null);
    const row = /<tr><td>reagent-blank-9<\/td>.*?<\/tr>/.exec(html)?.[0] ?? '';
    expect(row).toContain('not looked');
    const runs = csvFiles(facts())
      .find((file) => file.name === 'runs.csv')!
      .text.split('\r\n');
    const head = runs[0]!.split(',');
    const blank = runs.find((line) => line.startsWith('reagent-blank-9'))!.split(',');
    expect(blank[head.indexOf('looked')]).toBe('false');
    expect(blank[head.indexOf('count')]).toBe('');
  });

  it('of nothing at all says so', () => {
    const bare = {
      ...facts(),
      specimens: [],
      runs: [],
      coverage: [],
      procedures: [],
      deviations: [],
      photos: [],
      pieces: [],
      pictures: [],
    };
    const html = htmlOf(buildReport(bare), null);
    expect(html).toContain('Nothing was measured');
    expect(html).toContain('No filter is on record');
    expect(recountData(bare)).toBeNull();
  });
});

describe('hostile names', () => {
  const evil = facts(EVIL);
  const report = buildReport(evil);

  it('stay text behind the claim too', () => {
    expect(htmlOf(buildReport(withBehind(EVIL)), null)).not.toContain('<script>alert');
    for (const { text } of csvFiles(withBehind(EVIL)))
      for (const line of text.split('\r\n')) expect(line).not.toMatch(/(^|,)"?=cmd/);
  });

  it('stay text in HTML, and cannot end a script', () => {
    const html = htmlOf(report, { script: 'console.log("</script>")', data: recountData(evil)! });
    expect(html).not.toContain('<script>alert');
    expect(html).not.toContain('<img src=x');
    expect(html.match(/<\/script>/g)).toHaveLength(2);
    const data = /id="recount-data">(.*?)<\/script>/s.exec(html)![1]!;
    expect(data).not.toContain('<');
    expect(JSON.parse(data)).toEqual(JSON.parse(JSON.stringify(recountData(evil))));
  });

  it('loads nothing: the page forbids all but its own style, pictures and the one script', () => {
    const html = htmlOf(report, null);
    expect(html).toContain('default-src &#39;none&#39;');
    expect(html).not.toContain('script-src');
    expect(html).not.toMatch(/(src|href)="(https?:)?\/\//);
  });

  it('stay text in Markdown', () => {
    const text = markdownOf(report);
    expect(text).not.toContain('<script>');
    expect(text).not.toMatch(/(^|[^\\])\*b\*/m);
  });

  it('are no formulas in CSV', () => {
    for (const { text } of csvFiles(evil))
      for (const cell of text.split(/[\r\n,]+/)) expect(cell).not.toMatch(/^"?[=+@]/);
  });
});

describe('CSV cells', () => {
  it.each([
    ['=1+1', "'=1+1"],
    ['+49', "'+49"],
    ['-2', "'-2"],
    ['@x', "'@x"],
    ['\tx', "'\tx"],
    ['a,b', '"a,b"'],
    ['say "no"', '"say ""no"""'],
    ['two\nlines', '"two\nlines"'],
    ['plain', 'plain'],
    [-2, '-2'],
    [0, '0'],
    [null, ''],
    [true, 'true'],
  ])('%j', (cell, written) => {
    expect(csvCell(cell)).toBe(written);
  });
  it('refuse what is no number', () => {
    expect(() => csvCell(Number.NaN)).toThrow(RangeError);
  });
});

describe('the reader’s recount', () => {
  const data = recountData(facts())!;

  it('with nothing changed gives the report’s own claim', () => {
    const { claim, moved } = recount(data, new Map());
    expect(claim.sentence).toBe(facts().specimens[0]!.claim.sentence);
    expect(moved).toEqual([]);
  });

  it('moves the number when pieces are dropped, and says which run', () => {
    const before = recount(data, new Map()).claim.netPerGram!;
    const dropped = new Map(
      data.pieces
        .filter((one) => one.run === 'specimen-0')
        .map((one) => [one.id, { shape: one.shape, standing: 'dropped' as const }]),
    );
    const { claim, moved } = recount(data, dropped);
    expect(moved).toEqual([{ run: 'specimen-0', from: 14, to: 0 }]);
    expect(claim.netPerGram!.value).toBeLessThan(before.value);
  });

  it('a class in or out of the question’s scope counts or not', () => {
    const fragments = recountData(facts('x', ['fragment']))!;
    const one = fragments.pieces.find((found) => found.shape === 'fragment')!;
    const { moved } = recount(fragments, new Map([[one.id, { shape: 'fibre', standing: 'kept' }]]));
    expect(moved).toEqual([{ run: one.run, from: 14, to: 13 }]);
  });
});

describe('small things', () => {
  // RFC 4648, § 10: test vectors.
  it.each([
    ['', ''],
    ['66', 'Zg=='],
    ['666f', 'Zm8='],
    ['666f6f', 'Zm9v'],
    ['666f6f62', 'Zm9vYg=='],
  ])('base64 of %s', (hex, base64) => {
    expect(base64OfHex(hex)).toBe(base64);
  });
  it('JSON keeps its meaning inside a page', () => {
    const odd = { text: '</script>&\u2028' };
    expect(jsonInHtml(odd)).not.toMatch(/[<>&\u2028]/);
    expect(JSON.parse(jsonInHtml(odd))).toEqual(odd);
  });
  it.each([
    [300, 100],
    [45, 20],
    [5000, 2000],
    [3, 5],
  ])('a picture of %d µm has a bar of %d µm', (width, bar) => {
    expect(barFor(width)).toBe(bar);
  });
});
