/**
 * How well spectra are told apart, on the labelled spectra beside the repository (../shared/data/spectra, read when it is
 * there): nothing of one physical sample is ever on both sides. Printed beside a plain nearest neighbour.
 */
import { existsSync, readFileSync } from 'node:fs';
import Papa from 'papaparse';
import { readSpectrumBytes } from '../../src/decode/index.ts';
import { chanceFrom } from '../../src/science/maths/index.ts';
import {
  GRIDS,
  kin,
  type Match,
  match,
  peaksOf,
  type Reference,
  referenceSet,
  savitzkyGolay,
  type Technique,
  toGrid,
  understand,
  witness,
} from '../../src/science/spectra/index.ts';

const FOLDER = '../shared/data/spectra';
const out = (line: string) => process.stdout.write(`${line}\n`);

interface Labelled extends Reference {
  readonly group: string;
  readonly origin: string;
  readonly natural: boolean;
  readonly slope: Float64Array;
  /** Share of its label's published bands that it shows; null where none are published in our table. */
  readonly shown: number | null;
}

function readAll(): Labelled[] {
  const { data } = Papa.parse<Record<string, string>>(readFileSync(`${FOLDER}/labels.csv`, 'utf8'), {
    header: true,
    skipEmptyLines: true,
  });
  return data.map((row) => {
    const file = row.file!;
    const read = readSpectrumBytes(readFileSync(`${FOLDER}/${file}`), file);
    if (!read.ok) throw new Error(read.refusal.message);
    const known = understand(read.value[0]!, file);
    if (!known.ok) throw new Error(known.refusal.message);
    const wanted: Technique = row.technique === 'Raman' ? 'raman' : 'infrared';
    if (known.value.technique !== wanted) throw new Error(`${file} was taken for ${known.value.technique}`);
    return {
      name: file,
      material: row.material!,
      family: row.family!,
      spectrum: known.value,
      own: false,
      group: row.group!,
      origin: row.origin!,
      natural: row.category === 'natural',
      slope: plainSlope(toGrid(known.value, GRIDS[wanted]).heights),
      shown: shareShown(known.value, row.family!, row.material!),
    };
  });
}

function shareShown(spectrum: Reference['spectrum'], family: string, material: string): number | null {
  const bands = witness(spectrum, peaksOf(spectrum), family, material);
  return bands === null ? null : bands.found.length / (bands.found.length + bands.missing.length);
}

/** First derivative (9 points, quadratic), mean 0, length 1: the yardstick's only preparation. */
function plainSlope(heights: Float64Array): Float64Array {
  const slope = savitzkyGolay(heights, 9, 2, 1);
  const mean = slope.reduce((a, b) => a + b, 0) / slope.length;
  const level = slope.map((v) => v - mean);
  const size = Math.sqrt(level.reduce((a, b) => a + b * b, 0));
  return level.map((v) => v / size);
}

interface Asked {
  readonly query: Labelled;
  readonly match: Match;
  readonly nearest: string;
}

/** Every spectrum against all that share nothing with it; only where its family is left among the references. */
function askAll(all: readonly Labelled[], key: 'group' | 'origin', technique: Technique): Asked[] {
  const of = all.filter(({ spectrum }) => spectrum.technique === technique);
  const keys = [...new Set(of.map((s) => s[key]))].sort();
  const folds =
    key === 'origin'
      ? keys.map((k) => [k])
      : Array.from({ length: 16 }, (_, f) => keys.filter((_k, at) => at % 16 === f));
  return folds.flatMap((fold) => {
    const references = of.filter((s) => !fold.includes(s[key]));
    const queries = of.filter((s) => fold.includes(s[key]) && references.some((r) => r.family === s.family));
    if (queries.length === 0) return [];
    const set = referenceSet(references, technique);
    return queries.map((query) => {
      let nearest = references[0]!;
      let most = -2;
      for (const r of references) {
        let product = 0;
        for (let k = 0; k < r.slope.length; k++) product += r.slope[k]! * query.slope[k]!;
        if (product > most) {
          most = product;
          nearest = r;
        }
      }
      return { query, match: match(query.spectrum, set), nearest: nearest.family };
    });
  });
}

/** 95 % interval of a share, physical samples drawn again 2000 times: spectra of one sample err together. */
function interval(asked: readonly Asked[], right: (one: Asked) => boolean): string {
  const samples = new Map<string, { n: number; right: number }>();
  for (const one of asked) {
    const sample = samples.get(one.query.group) ?? { n: 0, right: 0 };
    sample.n++;
    if (right(one)) sample.right++;
    samples.set(one.query.group, sample);
  }
  const list = [...samples.values()];
  const chance = chanceFrom(2000);
  const shares = Array.from({ length: 2000 }, () => {
    let n = 0;
    let good = 0;
    for (let k = 0; k < list.length; k++) {
      const one = list[Math.floor(chance.uniform() * list.length)]!;
      n += one.n;
      good += one.right;
    }
    return good / n;
  }).sort((a, b) => a - b);
  return `${shares[49]!.toFixed(3)}–${shares[1950]!.toFixed(3)}`;
}

const share = (n: number, of: number) => `${n}/${of} = ${of > 0 ? (n / of).toFixed(3) : '–'}`;

function tell(title: string, asked: readonly Asked[]): void {
  const top = asked.filter(({ query, match: m }) => m.ranking[0]!.family === query.family).length;
  const isRelated = ({ query, match: m }: Asked) => kin(m.ranking[0]!.family, query.family);
  const related = asked.filter(isRelated).length;
  const answered = asked.filter(({ match: m }) => m.answer !== null);
  const right = answered.filter(({ query, match: m }) => kin(m.answer!.family, query.family)).length;
  const near = asked.filter(({ query, nearest }) => nearest === query.family).length;
  const nearKin = asked.filter(({ query, nearest }) => kin(nearest, query.family)).length;
  out(`${title} (${asked.length} spectra)`);
  out(
    `  top-1 by family, all            ${share(top, asked.length)}   with PE/PP fibres right as PE or PP ${share(related, asked.length)}`,
  );
  out(`    95 % interval of the latter, samples drawn again: ${interval(asked, isRelated)}`);
  const hidden = asked.filter(({ query }) => query.shown !== null && query.shown < 0.5);
  const open = asked.filter((one) => !hidden.includes(one));
  out(
    `    of ${hidden.length} that show fewer than half of their label's published bands ${share(hidden.filter(isRelated).length, hidden.length)}, of the others ${share(open.filter(isRelated).length, open.length)}`,
  );
  out(
    `  nearest neighbour, derivative   ${share(near, asked.length)}   with PE/PP fibres right as PE or PP ${share(nearKin, asked.length)}`,
  );
  out(
    `  answered                        ${share(answered.length, asked.length)}   right among the answered ${share(right, answered.length)}`,
  );
  const natural = asked.filter(({ query }) => query.natural);
  if (natural.length > 0) {
    const plastic = natural.filter(({ match: m }) => m.answer?.kind === 'plastic').length;
    const said = natural.filter(({ match: m }) => m.answer !== null).length;
    out(
      `  natural fibres called plastic   ${share(plastic, natural.length)}   natural fibres answered ${share(said, natural.length)}`,
    );
  }
  if (process.argv.includes('--errors')) {
    for (const { query, match: m } of asked) {
      if (!kin(m.ranking[0]!.family, query.family)) {
        out(
          `    ${query.name} ${query.family} → ${m.ranking[0]!.family} evidence ${m.evidence.toFixed(2)}${query.shown === null ? '' : `, shows ${query.shown.toFixed(2)} of its label's bands`}${m.answer ? ' ANSWERED' : ''}`,
        );
      }
    }
  }
}

/** Whole families taken out of the references: how many of their spectra are answered all the same. */
function strangers(all: readonly Labelled[], technique: Technique): void {
  const of = all.filter(({ spectrum }) => spectrum.technique === technique);
  const families = [...new Set(of.map(({ family }) => family))].sort();
  const shares = families.map((family) => {
    const set = referenceSet(
      of.filter((s) => !kin(s.family, family)),
      technique,
    );
    const queries = of.filter((s) => s.family === family);
    const answered = queries.filter((q) => match(q.spectrum, set).answer !== null).length;
    return { family, answered, of: queries.length };
  });
  const mean = shares.reduce((sum, s) => sum + s.answered / s.of, 0) / shares.length;
  out(`${technique}: family not among the references, answered all the same: ${mean.toFixed(3)} on average`);
  out(`  ${shares.map((s) => `${s.family} ${s.answered}/${s.of}`).join(', ')}`);
  const natural = of.filter((s) => s.natural);
  if (natural.length > 0) {
    const plastics = referenceSet(
      of.filter((s) => !['cellulose/plant', 'protein'].includes(s.family)),
      technique,
    );
    const fooled = natural.filter((q) => match(q.spectrum, plastics).answer?.kind === 'plastic').length;
    out(`  natural fibres against plastics alone, called plastic: ${share(fooled, natural.length)}`);
  }
}

/** One collection as references, the other asked: other instruments, other pieces, materials that are not there. */
function collections(all: readonly Labelled[], technique: Technique): void {
  const of = all.filter(({ spectrum }) => spectrum.technique === technique);
  const collectionOf = (s: Labelled) => s.name.split('/')[0]!;
  const names = [...new Set(of.map(collectionOf))];
  if (names.length < 2) return;
  for (const name of names) {
    const references = of.filter((s) => collectionOf(s) === name);
    const set = referenceSet(references, technique);
    const asked = of.filter((s) => collectionOf(s) !== name);
    const known = asked.filter((s) => references.some((r) => kin(r.family, s.family)));
    const strange = asked.filter((s) => !known.includes(s));
    const answers = known.flatMap((s) => match(s.spectrum, set).answer ?? []);
    const right = known.filter((s) => {
      const { answer } = match(s.spectrum, set);
      return answer !== null && kin(answer.family, s.family);
    }).length;
    const accepted = strange.filter((s) => match(s.spectrum, set).answer !== null).length;
    out(
      `${technique}, ${name} as references, the others asked: answered ${share(answers.length, known.length)}, right ${share(right, answers.length)}; of families not among the references answered ${share(accepted, strange.length)}`,
    );
  }
}

if (!existsSync(`${FOLDER}/labels.csv`)) {
  out(`${FOLDER} is not there: nothing to measure.`);
} else {
  const all = readAll();
  for (const technique of ['infrared', 'raman'] as const) {
    const n = all.filter(({ spectrum }) => spectrum.technique === technique).length;
    const set = referenceSet(
      all.filter(({ spectrum }) => spectrum.technique === technique),
      technique,
    );
    const { threshold, doubtful } = match(
      all.find(({ spectrum }) => spectrum.technique === technique)!.spectrum,
      set,
    );
    out(
      `${technique}: ${n} spectra, threshold of evidence ${threshold.evidence.toFixed(3)} for ${threshold.falseAccepts * 100} % false accepts`,
    );
    out(
      `  labels in doubt: ${doubtful.map(({ reference: k, like }) => `${set.references[k]!.name} (${set.references[k]!.family}, like ${like})`).join('; ') || 'none'}`,
    );
    tell(`${technique}, samples kept apart`, askAll(all, 'group', technique));
    tell(`${technique}, origins kept apart`, askAll(all, 'origin', technique));
    strangers(all, technique);
    collections(all, technique);
  }
}
