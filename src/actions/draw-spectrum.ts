import type { MatchJson } from '../api/index.ts';
import { type SpectrumLine, spectrumPicture } from '../report/index.ts';
import { levelled } from '../science/spectra/index.ts';
import type { SpectrumFile } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { readOneSpectrum, type Spectra } from './attach-spectrum.ts';
import { asId, known } from './known.ts';

/** How many references are drawn below a spectrum. */
const SHOWN = 3;

/** A kept spectrum over the known materials that it was most like, as SVG. */
export async function drawSpectrum(tools: Spectra, id: string, width: number): Promise<Outcome<string>> {
  const file = await tools.records.look((look) => known(look.spectrumFiles.get(asId(id)), 'spectrum', id));
  if (!file.ok) return file;
  const line = async (one: SpectrumFile, label: string): Promise<Outcome<SpectrumLine>> => {
    const read = await tools.files.withFile(one.sha256, (path) =>
      readOneSpectrum(tools.spectra, path, one.name),
    );
    return read.ok ? done({ label, ...levelled(read.value) }) : read;
  };
  const query = await line(file.value, file.value.name);
  if (!query.ok) return query;
  const match = file.value.match as MatchJson | null;
  const all = match === null ? [] : await tools.records.look((look) => look.spectrumFiles.known());
  const references: SpectrumLine[] = [];
  for (const ranked of match?.ranking.slice(0, SHOWN) ?? []) {
    const one = all.find(
      ({ name, technique }) => name === ranked.reference && technique === file.value.technique,
    );
    const drawn =
      one && (await line(one, `${ranked.family}, likeness ${ranked.likeness.toFixed(2)}: ${one.name}`));
    if (drawn?.ok) references.push(drawn.value);
  }
  return done(
    spectrumPicture({
      query: query.value,
      references,
      found: match?.bands?.for ?? [],
      missing: match?.bands?.against.missing ?? [],
      technique: file.value.technique,
      width,
      name: `spectrum-${file.value.id}`,
    }),
  );
}
