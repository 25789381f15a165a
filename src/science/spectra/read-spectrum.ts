import { done, type Outcome, refused } from '../../units/index.ts';
import { readColumns } from './columns/read-columns.ts';
import { looksLikeJcamp, readJcamp } from './jcamp/read-jcamp.ts';
import type { RawSpectrum } from './spectrum.ts';

/**
 * The spectra of a text file, by what it holds and not by its name: JCAMP-DX in every packing, or columns of numbers.
 * Refuses with one sentence whatever is neither.
 */
export function readSpectrumText(text: string, name: string): Outcome<RawSpectrum[]> {
  if (looksLikeJcamp(text) || /\.(jdx|dx|jcamp|jcm)$/i.test(name)) return readJcamp(text, name);
  if (text.trim() === '') {
    return refused({ why: 'not-a-spectrum', message: `${name} is empty: export the spectrum again.` });
  }
  if (text.includes('\u0000')) {
    return refused({
      why: 'not-a-spectrum',
      message: `${name} is not text: export the spectrum as JCAMP-DX, SPC or two columns.`,
    });
  }
  return withPoints(readColumns(text, name), name);
}

/** Everything after a table begins with enough points to hold a band. */
function withPoints(read: Outcome<RawSpectrum[]>, name: string): Outcome<RawSpectrum[]> {
  if (!read.ok) return read;
  const longest = Math.max(...read.value.map((one) => one.x.length));
  if (longest >= 20) return done(read.value.filter((one) => one.x.length >= 20));
  return refused({
    why: 'too-few-points',
    message: `${name} has ${longest} points: too few for a spectrum, which takes hundreds. Export it whole.`,
  });
}
