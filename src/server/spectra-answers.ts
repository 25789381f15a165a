/** Spectra over HTTP: in, listed, drawn, and to the byte. */
import type { Context } from 'hono';
import { attachSpectrum, drawSpectrum } from '../actions/index.ts';
import type {
  KnownSpectrumJson,
  MatchJson,
  PieceSpectrumJson,
  SPECTRA_ROUTES,
  SpectraAnswer,
} from '../api/index.ts';
import { setAsideSentence } from '../api/index.ts';
import type { Id, SpectrumFile } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { fileAnswer, savedAs } from './file-answer.ts';
import { chunks } from './photo-bytes.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';

const notLent = refused({
  why: 'no-spectra-here',
  message: 'This server cannot read spectra: start the program on the laboratory’s own machine.',
});

export const spectraAnswers = (served: Served): Readonly<Record<keyof typeof SPECTRA_ROUTES, Answering>> => ({
  spectra: async (c) => answered(c, await spectraView(served, part(c, 'study'))),
  attachSpectrum: async (c) => {
    const kept = await bringIn(served, c, { study: '', particle: part(c, 'particle'), material: null });
    if (!kept.ok) return answered(c, kept);
    return answered(c, done((await shown(served, [kept.value])).pieces[0]!));
  },
  addKnownSpectrum: async (c) => {
    const material = valid<{ material?: string }>(c, 'query').material ?? null;
    const kept = await bringIn(served, c, { study: part(c, 'study'), particle: null, material });
    if (!kept.ok) return answered(c, kept);
    return answered(c, done((await shown(served, [kept.value])).known[0]!));
  },
  spectrumPicture: async (c) => {
    if (!served.spectra) return answered(c, notLent);
    const drawn = await drawSpectrum(
      { ...served, spectra: served.spectra },
      part(c, 'spectrum'),
      valid<{ width: number }>(c, 'query').width,
    );
    if (!drawn.ok) return answered(c, drawn);
    return c.body(drawn.value, 200, {
      'content-type': 'image/svg+xml',
      'cache-control': 'private, max-age=300',
    });
  },
  spectrumOriginal: async (c) => {
    const id = part(c, 'spectrum') as Id<'spectrum-file'>;
    const file = await served.records.look((look) => look.spectrumFiles.get(id));
    if (!file) return answered(c, noSuch('spectrum', id));
    return served.files.withFile(file.sha256, (path) =>
      fileAnswer(c, path, {
        'content-type': 'application/octet-stream',
        'content-disposition': savedAs(file.name),
      }),
    );
  },
});

async function bringIn(
  served: Served,
  c: Context,
  of: { readonly study: string; readonly particle: string | null; readonly material: string | null },
): Promise<Outcome<SpectrumFile>> {
  if (!served.spectra) return notLent;
  const body = c.req.raw.body;
  return attachSpectrum(
    { ...served, spectra: served.spectra },
    {
      ...of,
      name: valid<{ name: string }>(c, 'query').name,
      source: body ? { stream: chunks(body) } : { bytes: new Uint8Array() },
      by: served.person,
    },
  );
}

async function spectraView(served: Served, id: string): Promise<Outcome<SpectraAnswer>> {
  const files = await served.records.look(async (look) => {
    const study = await look.studies.get(id as Id<'study'>);
    if (!study) return null;
    const own = (await look.spectrumFiles.ofStudy(study.id)).filter(({ particle }) => particle !== null);
    return [...own, ...(await look.spectrumFiles.known())];
  });
  return files === null ? noSuch('study', id) : done(await shown(served, files));
}

async function shown(served: Served, files: readonly SpectrumFile[]): Promise<SpectraAnswer> {
  return served.records.look(async (look) => {
    const people = new Map((await look.people.list()).map(({ id, name }) => [id, name]));
    const known: KnownSpectrumJson[] = [];
    const pieces: PieceSpectrumJson[] = [];
    for (const file of files) {
      const { id, name, technique, at } = file;
      const by = people.get(file.by) ?? '';
      if (file.particle === null) {
        known.push({ id, name, material: file.material!, technique, by, at });
        continue;
      }
      const particle = await look.particles.get(file.particle);
      const match = file.match as MatchJson | null;
      pieces.push({
        id,
        name,
        particle: file.particle,
        number: particle!.number,
        photo: particle!.photo,
        technique,
        answer: match?.answer?.family ?? null,
        likeness: match?.ranking[0]?.likeness ?? null,
        says: saysOf(match),
        by,
        at,
      });
    }
    return { known, pieces, doubted: doubtedOf(files) };
  });
}

/** What the newest match of each technique was not compared with. */
function doubtedOf(files: readonly SpectrumFile[]): string[] {
  const newest = (['infrared', 'raman'] as const).flatMap((technique) => {
    const file = files.findLast((one) => one.technique === technique && one.match !== null);
    return file ? [setAsideSentence(file.match as unknown as MatchJson)] : [];
  });
  return newest.filter((sentence) => sentence !== null);
}

function saysOf(match: MatchJson | null): string {
  if (match === null) return 'There was no known material of this kind to hold it against.';
  const said =
    match.answer === null
      ? `Cannot tell. ${match.cannot_tell?.message ?? ''}`.trim()
      : `Like ${match.answer.family}, most of all ${match.answer.reference}.`;
  return [said, ...match.spectrum.taken].join(' ');
}
