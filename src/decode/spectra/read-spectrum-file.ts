import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import type { SpectrumWork } from '../../actions/index.ts';
import { type RawSpectrum, readSpectrumText } from '../../science/spectra/index.ts';
import { type Outcome, refused } from '../../units/index.ts';
import { shownName } from '../shown-name.ts';
import { looksLikeSpc, readSpc } from './read-spc.ts';

/** Larger files are no single spectra; reading them would only take memory. */
const LARGEST_BYTES = 64 * 1024 * 1024;

/** The spectra of a file, whatever its ending: SPC, JCAMP-DX, columns. Refuses with one sentence. */
export async function readSpectrumFile(path: string): Promise<Outcome<RawSpectrum[]>> {
  const name = shownName(basename(path));
  try {
    const { size } = await stat(path);
    if (size > LARGEST_BYTES) {
      return refused({
        why: 'too-large',
        message: `${name} has ${Math.round(size / 1e6)} MB, more than any spectrum: name a file with one spectrum.`,
      });
    }
    return readSpectrumBytes(await readFile(path), basename(path));
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT' || code === 'EISDIR' || code === 'EACCES' || code === 'ENOTDIR') {
      const what =
        code === 'ENOENT' || code === 'ENOTDIR'
          ? 'is not there'
          : code === 'EISDIR'
            ? 'is a folder'
            : 'may not be read';
      return refused({ why: 'no-file', message: `${name} ${what}: name a file that holds a spectrum.` });
    }
    throw error;
  }
}

/** The spectra of bytes. The name is for the sentences, and settles what bytes alone leave open. */
export function readSpectrumBytes(bytes: Uint8Array, name: string): Outcome<RawSpectrum[]> {
  const shown = shownName(name);
  if (looksLikeSpc(bytes, name)) return readSpc(bytes, shown);
  // The reader judges by the ending too; the shown name keeps it inside its quotation marks.
  const read = readSpectrumText(textOf(bytes), name);
  return read.ok ? read : refused({ ...read.refusal, message: read.refusal.message.replaceAll(name, shown) });
}

/** UTF-8 or UTF-16 with its mark, else UTF-8 where it is valid, else Latin 1, which older instruments write. */
function textOf(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes);
  }
}

/** Reading for the deeds: a kept original has no name of its own and is read under the one that it came with. */
export const spectrumWork = (): SpectrumWork => ({
  read: async (path, name) => readSpectrumBytes(await readFile(path), name),
});
