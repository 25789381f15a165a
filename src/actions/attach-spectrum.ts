import { matchJson } from '../api/index.ts';
import { classOfName } from '../bench/index.ts';
import {
  familyNamed,
  MATERIALS_FROM,
  type Match,
  match,
  type RawSpectrum,
  type Reference,
  type ReferenceSet,
  referenceSet,
  type Spectrum,
  understand,
} from '../science/spectra/index.ts';
import { type Json, makeSpectrumFile, photoName, type SpectrumFile } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { answerBenchTest, particleAtHome, stillThere } from './bench-tests.ts';
import { asId, known } from './known.ts';
import type { Look, PhotoSource, Tools } from './ports.ts';

/** Reading of spectrum files, lent by main. */
export interface SpectrumWork {
  /** The spectra of a file under the name that it came with; refuses with one sentence. */
  read(path: string, name: string): Promise<Outcome<readonly RawSpectrum[]>>;
}

/** Larger files are no single spectra. */
const MOST_BYTES = 64 * 2 ** 20;

export type Spectra = Pick<Tools, 'records' | 'files' | 'clock' | 'names'> & {
  readonly spectra: SpectrumWork;
};

export interface SpectrumWish {
  readonly study: string;
  /** The particle that was measured; null where it is a known material. */
  readonly particle: string | null;
  /** What it is known to be; null for a particle. A known material without a word takes it from the file's name. */
  readonly material: string | null;
  readonly name: string;
  readonly source: PhotoSource;
  readonly by: string;
}

/**
 * Attaches a spectrum: the original first, then the record. Of a particle it is held against the laboratory's own known
 * materials, and what it is like becomes the answer of the bench test “spectrum” (“cannot tell” is one).
 */
export async function attachSpectrum(tools: Spectra, wish: SpectrumWish): Promise<Outcome<SpectrumFile>> {
  const { records, files, clock, names } = tools;
  const name = photoName(wish.name);
  const home = await records.look((look) => homeOf(look, wish));
  if (!home.ok) return home;
  const material = wish.particle === null ? materialOf(wish, name) : done(null);
  if (!material.ok) return material;
  const taken = await files.takeIn(wish.source, MOST_BYTES);
  if (!taken.ok) return taken;
  let kept = false;
  try {
    const spectrum = await readOneSpectrum(tools.spectra, taken.value.path, name);
    if (!spectrum.ok) return spectrum;
    const found = wish.particle === null ? null : await matchOwn(tools, spectrum.value);
    const made = makeSpectrumFile({
      id: names.next(),
      study: home.value,
      particle: wish.particle,
      material: material.value,
      sha256: taken.value.sha256,
      name,
      bytes: taken.value.bytes,
      technique: spectrum.value.technique,
      match: found && (travelling(name, taken.value.sha256, spectrum.value, found) as unknown as Json),
      by: wish.by,
      at: clock.now(),
    });
    if (!made.ok) return made;
    kept = true;
    await taken.value.keep();
    const added = await records.change(async (desk) => {
      const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
      if (!person.ok) return person;
      await desk.spectrumFiles.add(made.value);
      return made;
    });
    if (!added.ok || wish.particle === null) return added;
    const answer = await answerBenchTest(tools, {
      particle: wish.particle,
      test: 'spectrum',
      value: readMatch(found),
      setting: spectrum.value.technique,
      before: null,
      after: null,
      onGlass: false,
      note: noteOf(name, found),
      by: wish.by,
    });
    return answer.ok ? added : answer;
  } finally {
    if (!kept) await taken.value.discard();
  }
}

interface OwnMatch {
  readonly match: Match;
  readonly set: ReferenceSet;
}

/** The answer of the bench test: a name that the test knows the class of, or “cannot-tell”. */
export function readMatch(found: OwnMatch | null): string {
  const answer = found?.match.answer;
  if (!found || !answer) return 'cannot-tell';
  const { material } = found.set.references[answer.reference]!;
  return [answer.family, material].find((name) => classOfName(name) !== null) ?? answer.family;
}

function noteOf(name: string, found: OwnMatch | null): string {
  if (found === null)
    return `“${name}” is kept; there are no known materials of this kind to hold it against yet.`;
  const { answer, cannotTell } = found.match;
  return answer === null
    ? `“${name}”: ${cannotTell!.message}`
    : `“${name}”: likeness ${answer.likeness.toFixed(2)} to ${found.set.references[answer.reference]!.name}.`;
}

async function homeOf(look: Look, wish: SpectrumWish): Promise<Outcome<SpectrumFile['study']>> {
  if (wish.particle === null) {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    return study.ok ? done(study.value.id) : study;
  }
  const home = await particleAtHome(look, wish.particle);
  if (!home.ok) return home;
  const { study, particle } = home.value;
  const there = await stillThere(look, study, particle);
  return there.ok ? done(study) : there;
}

function materialOf(wish: SpectrumWish, name: string): Outcome<string> {
  const said = wish.material?.trim() || asWritten(familyNamed(name));
  return said
    ? done(said)
    : refused({
        why: 'material-not-known',
        message: `“${name}” does not say what it is a spectrum of: write the material beside it.`,
      });
}

/** Short names of plastics are written in capitals: PE, PA6, HDPE. */
function asWritten(named: ReturnType<typeof familyNamed>): string | undefined {
  if (named === null) return undefined;
  const short = /^[a-z]{2,5}[0-9]*$/.test(named.name) && named.family.kind === 'plastic';
  return short && !/^(nylon|lycra|lexan|mylar|paint|tyre|tire|epoxy)$/.test(named.name)
    ? named.name.toUpperCase()
    : named.name;
}

export async function readOneSpectrum(
  work: SpectrumWork,
  path: string,
  name: string,
): Promise<Outcome<Spectrum>> {
  const read = await work.read(path, name);
  if (!read.ok) return read;
  if (read.value.length > 1) {
    return refused({
      why: 'several-spectra',
      message: `“${name}” holds ${read.value.length} spectra: export the one of this piece alone.`,
    });
  }
  return understand(read.value[0]!, `“${name}”`);
}

/** Holds a spectrum against the known materials of the laboratory; null where there are none of its kind. */
async function matchOwn(tools: Spectra, spectrum: Spectrum): Promise<OwnMatch | null> {
  const files = await tools.records.look((look) => look.spectrumFiles.known());
  const references: Reference[] = [];
  for (const file of files.filter(({ technique }) => technique === spectrum.technique)) {
    const read = await tools.files.withFile(file.sha256, (path) =>
      readOneSpectrum(tools.spectra, path, file.name),
    );
    if (!read.ok) continue;
    const material = file.material!;
    const family = familyNamed(material)?.family.family ?? material;
    references.push({ name: file.name, material, family, spectrum: read.value, own: true });
  }
  if (references.length === 0) return null;
  const set = referenceSet(references, spectrum.technique);
  return { match: match(spectrum, set), set };
}

const travelling = (name: string, sha256: string, spectrum: Spectrum, { match: found, set }: OwnMatch) =>
  matchJson(
    { name, sha256, spectrum },
    { folder: 'known materials of this laboratory', skipped: [] },
    set,
    { match: found },
    MATERIALS_FROM,
  );
