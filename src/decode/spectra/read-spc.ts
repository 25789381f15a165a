import { parse } from 'spc-parser';
import type { RawSpectrum } from '../../science/spectra/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';

/** Versions of the format, second byte: new (least or most significant byte first) and old. */
const VERSIONS = [0x4b, 0x4c, 0x4d];

/** SPC by its version byte, where bytes or ending leave no doubt that it is not text. */
export const looksLikeSpc = (bytes: Uint8Array, name: string): boolean =>
  VERSIONS.includes(bytes[1] ?? 0) && (/\.spc$/i.test(name) || bytes.subarray(0, 512).includes(0));

/** The spectra of an SPC file, by a library. Refuses `damaged-spectrum` where the library cannot read it. */
export function readSpc(bytes: Uint8Array, shown: string): Outcome<RawSpectrum[]> {
  let parsed: ReturnType<typeof parse>;
  try {
    // A copy of its own: the library takes the buffer from its beginning.
    parsed = parse(bytes.slice().buffer);
  } catch {
    return refused({
      why: 'damaged-spectrum',
      message: `${shown} begins as an SPC file and cannot be read to its end: export it again, or as JCAMP-DX.`,
    });
  }
  const found = parsed.spectra.flatMap(({ variables }, k): RawSpectrum[] => {
    const { x, y } = variables;
    if (!(x.data.length >= 20) || x.data.length !== y.data.length) return [];
    const said = (unit: unknown) => (typeof unit === 'string' && unit !== '' ? unit : null);
    return [
      {
        title: parsed.spectra.length > 1 ? `${shown} (${k + 1})` : shown,
        x: Float64Array.from(x.data),
        y: Float64Array.from(y.data),
        xUnit: [said(x.units), said(x.label)].filter((s) => s !== null).join(' ') || null,
        yUnit: [said(y.label), said(y.units)].filter((s) => s !== null).join(' ') || null,
        remarks: [JSON.stringify(parsed.meta).slice(0, 2000)]
          .filter((text) => /raman|ft-?ir/i.test(text))
          .map((text) => (/raman/i.test(text) ? 'Raman' : 'FT-IR')),
      },
    ];
  });
  return found.length > 0
    ? done(found)
    : refused({
        why: 'no-spectrum-inside',
        message: `${shown} holds no spectrum of 20 points or more: export it again.`,
      });
}
