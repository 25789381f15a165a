import { writeFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { type MatchJson, matchJson } from '../api/index.ts';
import { leftOverLine, spectrumPicture } from '../report/index.ts';
import {
  leftOver,
  levelled,
  MATERIALS_FROM,
  type Match,
  match as matchSpectrum,
  type RawSpectrum,
  type Reference,
  type ReferenceSet,
  referenceSet,
  type Spectrum,
  type Technique,
  type Told,
  techniqueIsGuessed,
  understand,
  withoutFilter,
} from '../science/spectra/index.ts';
import { done, type Outcome, type Refusal, refused } from '../units/index.ts';
import { matchWords, newTally } from './match-words.ts';
import { STATUS, type Status } from './misuse.ts';
import { progressBar } from './progress-bar.ts';
import type { SpectrumTools, Terminal } from './tools.ts';

export interface MatchOptions {
  readonly references: string;
  readonly technique?: Technique;
  readonly laser?: number;
  readonly falseAccepts: number;
  readonly filter?: string;
  readonly picture?: string;
  readonly json?: boolean;
}

/**
 * `retentate match`: every spectrum gets its answer, “cannot tell” among them. Done when every file was read and held
 * against references; refused where one could not be.
 */
export async function match(
  given: readonly string[],
  options: MatchOptions,
  terminal: Terminal,
  tools: SpectrumTools,
): Promise<Status> {
  const refuse = (refusal: Refusal): Status => {
    terminal.err(`${refusal.message}\n`);
    if (options.json) terminal.out(`${JSON.stringify({ format: 'retentate/match/1', refusal })}\n`);
    return STATUS.refused;
  };
  const { places, unread } = await placesOf(given, tools);
  const folder = await tools.references(
    options.references,
    places.map(({ path }) => path),
  );
  if (!folder.ok) return refuse(folder.refusal);
  const told: Told = {
    ...(options.technique ? { technique: options.technique } : {}),
    ...(options.laser ? { laserNm: options.laser } : {}),
  };
  const filter = options.filter === undefined ? done(null) : await filterOf(options.filter, told, tools);
  if (!filter.ok) return refuse(filter.refusal);
  const compared = comparing(folder.value, options, told, filter.value);
  const tally = newTally();
  const bar = progressBar(places.length, terminal);
  const tell = (json: MatchJson) => {
    tally.add(json);
    bar.clear();
    terminal.out(options.json ? `${JSON.stringify(json)}\n` : `${matchWords(json)}\n`);
  };
  for (const { name, refusal } of unread) tell(compared.refused({ name, sha256: null }, refusal));
  let drawn = false;
  for (const [k, { path, name }] of places.entries()) {
    if (terminal.signal.aborted) {
      bar.stop();
      return STATUS.refused;
    }
    if (k > 0) bar.tick(1);
    const { read, sha256 } = await tools.read(path);
    if (!read.ok) tell(compared.refused({ name, sha256 }, read.refusal));
    for (const raw of read.ok ? read.value : []) {
      const { json, drawing } = compared.asked({ name, sha256 }, raw);
      tell(json);
      if (options.picture !== undefined && !drawn && drawing !== null) {
        await writeFile(options.picture, drawing());
        drawn = true;
      }
    }
  }
  bar.stop();
  if (!options.json) terminal.out(tally.words());
  return tally.refused() > 0 ? STATUS.refused : STATUS.done;
}

/** The spectra that the given paths name, and the folders that hold none. */
async function placesOf(given: readonly string[], tools: SpectrumTools) {
  const places: { readonly path: string; readonly name: string }[] = [];
  const unread: { readonly name: string; readonly refusal: Refusal }[] = [];
  for (const path of given) {
    const at = await tools.at(path);
    if (at.ok) places.push(...at.value);
    else unread.push({ name: basename(path), refusal: at.refusal });
  }
  return { places, unread };
}

type References = Extract<Awaited<ReturnType<SpectrumTools['references']>>, { ok: true }>['value'];
interface Asked {
  readonly name: string;
  readonly sha256: string | null;
}

/** Holds one spectrum after another against the references, made ready once for each technique. */
function comparing(
  { references, skipped }: References,
  options: MatchOptions,
  told: Told,
  bare: Spectrum | null,
) {
  const from = { folder: options.references, skipped };
  const sets = new Map<Technique, ReferenceSet>();
  const setFor = (technique: Technique): Outcome<ReferenceSet> => {
    const before = sets.get(technique);
    if (before) return done(before);
    if (!references.some(({ spectrum }) => spectrum.technique === technique)) {
      return refused({
        why: 'no-references',
        message: noReferences(options.references, technique, references.length, skipped),
      });
    }
    const made = referenceSet(references, technique, options.falseAccepts);
    sets.set(technique, made);
    return done(made);
  };
  const refusedJson = (asked: Asked, refusal: Refusal, spectrum: Spectrum | null = null): MatchJson =>
    matchJson({ ...asked, spectrum }, from, null, { refusal }, MATERIALS_FROM);
  return {
    refused: refusedJson,
    asked(
      asked: Asked,
      raw: RawSpectrum,
    ): { readonly json: MatchJson; readonly drawing: (() => string) | null } {
      const { name } = asked;
      const known = withReferences(understand(raw, `“${name}”`, told), raw, name, references);
      if (!known.ok) return { json: refusedJson(asked, known.refusal), drawing: null };
      if (bare !== null && bare.technique !== known.value.technique) {
        const refusal = {
          why: 'other-technique',
          message: `“${name}” is ${known.value.technique} and the filter’s spectrum ${bare.technique}: measure the bare filter in the same way.`,
        };
        return { json: refusedJson(asked, refusal, known.value), drawing: null };
      }
      const spectrum = bare === null ? known.value : withoutFilter(known.value, bare).spectrum;
      const set = setFor(spectrum.technique);
      if (!set.ok) return { json: refusedJson(asked, set.refusal, spectrum), drawing: null };
      const found = matchSpectrum(spectrum, set.value);
      return {
        json: matchJson({ ...asked, spectrum }, from, set.value, { match: found }, MATERIALS_FROM),
        drawing: () => picture(name, spectrum, set.value, found),
      };
    },
  };
}

/** The one spectrum of the bare filter. */
async function filterOf(path: string, told: Told, tools: SpectrumTools): Promise<Outcome<Spectrum>> {
  const { read } = await tools.read(path);
  return read.ok ? understand(read.value[0]!, `“${basename(path)}”`, told) : read;
}

/** Where the file is silent on its technique and the references are all of the other one, theirs is taken. */
function withReferences(
  known: Outcome<Spectrum>,
  raw: RawSpectrum,
  name: string,
  references: readonly Reference[],
): Outcome<Spectrum> {
  if (!known.ok || !techniqueIsGuessed(known.value)) return known;
  const there = new Set(references.map(({ spectrum }) => spectrum.technique));
  const [only] = there;
  if (there.size !== 1 || only === undefined || only === known.value.technique) return known;
  const again = understand(raw, `“${name}”`, { technique: only });
  const sentence = 'The file does not name the technique; that of the references is taken.';
  return again.ok ? done({ ...again.value, taken: [...again.value.taken, sentence] }) : known;
}

function noReferences(
  folder: string,
  technique: Technique,
  others: number,
  skipped: readonly { readonly refusal: Refusal }[],
): string {
  const first = skipped[0];
  if (others > 0)
    return `“${folder}” holds ${others} references, none of them ${technique === 'raman' ? 'Raman' : 'infrared'}: the two cannot be held against one another. Name a folder with ${technique} spectra.`;
  if (first)
    return `None of the ${skipped.length} files in “${folder}” can be used as a reference; the first: ${first.refusal.message}`;
  return `“${folder}” holds no spectra (JCAMP-DX, SPC or columns of numbers): put spectra of known materials there.`;
}

/** The spectrum over the best reference of each of the first three families. */
function picture(name: string, spectrum: Spectrum, set: ReferenceSet, found: Match): string {
  const best = found.ranking[0] ?? null;
  return spectrumPicture({
    query: { label: name, ...levelled(spectrum) },
    references: found.ranking.slice(0, 3).map((r) => {
      const reference = set.references[r.reference]!;
      return {
        label: `${r.family}, likeness ${r.likeness.toFixed(2)}: ${reference.name}`,
        ...levelled(reference.spectrum),
      };
    }),
    leftOver: best && leftOverLine(best.family, leftOver(spectrum, set.references[best.reference]!.spectrum)),
    found: found.bands?.found ?? [],
    missing: found.bands?.missing ?? [],
    technique: spectrum.technique,
    width: 900,
    name: 'spectrum',
  });
}
