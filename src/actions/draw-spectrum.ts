import type { MatchJson } from '../api/index.ts';
import { leftOverLine, type SpectrumLine, spectrumPicture } from '../report/index.ts';
import { leftOver, levelled, type Spectrum } from '../science/spectra/index.ts';
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
  const read = (one: SpectrumFile): Promise<Outcome<Spectrum>> =>
    tools.files.withFile(one.sha256, (path) => readOneSpectrum(tools.spectra, path, one.name));
  const query = await read(file.value);
  if (!query.ok) return query;
  const match = file.value.match as MatchJson | null;
  const all = match === null ? [] : await tools.records.look((look) => look.spectrumFiles.known());
  const references: SpectrumLine[] = [];
  let left: SpectrumLine | null = null;
  for (const ranked of match?.ranking.slice(0, SHOWN) ?? []) {
    const one = all.find(
      ({ name, technique }) => name === ranked.reference && technique === file.value.technique,
    );
    const drawn = one && (await read(one));
    if (!drawn?.ok) continue;
    if (ranked.rank === 1) left = leftOverLine(ranked.family, leftOver(query.value, drawn.value));
    references.push({
      label: `${ranked.family}, likeness ${ranked.likeness.toFixed(2)}: ${one!.name}`,
      ...levelled(drawn.value),
    });
  }
  return done(
    spectrumPicture({
      query: { label: file.value.name, ...levelled(query.value) },
      leftOver: left,
      references,
      found: match?.bands?.for ?? [],
      missing: match?.bands?.against.missing ?? [],
      technique: file.value.technique,
      width,
      name: `spectrum-${file.value.id}`,
    }),
  );
}
