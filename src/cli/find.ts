import { mkdir, writeFile } from 'node:fs/promises';
import { join, parse } from 'node:path';
import { type FindingJson, findingJson, refusedFindingJson } from '../api/index.ts';
import type { Finding, FindWish } from '../science/imaging/finding.ts';
import { photoName } from '../study/index.ts';
import type { Micrometres, MicrometresPerPixel, Millimetres, Refusal } from '../units/index.ts';
import { blanks } from './blanks.ts';
import { completeness } from './completeness.ts';
import { findingWords } from './find-words.ts';
import { STATUS, type Status } from './misuse.ts';
import { type NamedPhoto, namedPhotos } from './photo-files.ts';
import { progressBar } from './progress-bar.ts';
import type { PhotoSearch, Terminal } from './tools.ts';

export interface FindOptions {
  readonly pitch?: Millimetres;
  readonly scale?: MicrometresPerPixel;
  readonly smallest?: Micrometres;
  readonly falseFinds: number;
  readonly out?: string;
  readonly json?: boolean;
  /** The photographs are controls: tell how small a piece would be found on them. */
  readonly completeness?: boolean;
  /** The photographs are of bare membrane: tell what false finds each setting gives on them. */
  readonly blanks?: boolean;
}

/**
 * `retentate find`: every photograph gets its answer, refused ones too, in the order given. With --json one object a line.
 * Done when every photograph was searched and the scale that was asked for was found; refused otherwise.
 */
export async function find(
  given: readonly string[],
  options: FindOptions,
  terminal: Terminal,
  fetchSearch: () => Promise<PhotoSearch>,
): Promise<Status> {
  const { photos, empty } = await namedPhotos(given);
  for (const folder of empty) {
    terminal.err(
      `${JSON.stringify(folder)} holds no photographs (JPEG, PNG or TIFF): name another folder.\n`,
    );
  }
  if (photos.length === 0) return STATUS.refused;
  if (options.out !== undefined) await mkdir(options.out, { recursive: true });
  const wish = wishOf(options);
  const search = await fetchSearch();
  if (options.blanks) return blanks(photos, wish, options, terminal, search);
  if (options.completeness) return completeness(photos, wish, options, terminal, search);
  const bar = progressBar(photos.length, terminal);
  let refusals = empty.length;
  try {
    const names = freshNames(photos);
    const answers = photos.map((photo, at) =>
      answer(photo, names[at]!, wish, options, search, bar, terminal),
    );
    for (const pending of answers) {
      const { json, words, refused } = await pending;
      if (refused) refusals++;
      bar.clear();
      terminal.out(options.json ? `${JSON.stringify(json)}\n` : `${words}\n`);
    }
  } finally {
    bar.stop();
    await search.close();
  }
  return refusals > 0 ? STATUS.refused : STATUS.done;
}

function wishOf({ pitch, scale, smallest, falseFinds }: FindOptions): FindWish {
  const from: FindWish['scale'] =
    pitch !== undefined
      ? { from: 'printed-grid', pitch }
      : scale !== undefined
        ? { from: 'given', scale }
        : { from: 'nothing' };
  return { scale: from, smallest: smallest ?? null, falseFindsPerBlank: falseFinds };
}

interface Answer {
  readonly json: FindingJson;
  readonly words: string;
  readonly refused: boolean;
}

async function answer(
  { path, name }: NamedPhoto,
  outName: string,
  wish: FindWish,
  options: FindOptions,
  search: PhotoSearch,
  bar: { tick(share: number): void },
  { signal }: Terminal,
): Promise<Answer> {
  let told = 0;
  const progress = (share: number): void => {
    bar.tick(share - told);
    told = share;
  };
  const searched = await search.search({ path, name, wish }, progress, signal);
  progress(1);
  const sha256 = await search.sha256(path);
  if (!searched.ok) {
    const json = refusedFindingJson({ name, sha256, width_px: null, height_px: null }, searched.refusal);
    return { json, words: searched.refusal.message, refused: true };
  }
  const { finding, widthPx, heightPx } = searched.value;
  const json = findingJson({ name, sha256, width_px: widthPx, height_px: heightPx }, finding);
  if (options.out !== undefined) {
    await writeFile(join(options.out, `${outName}.particles.json`), `${JSON.stringify(json)}\n`);
    await search.outline(path, finding, join(options.out, `${outName}.outlines.jpg`));
  }
  return {
    json,
    words: findingWords(photoName(name), finding),
    refused: isRefused(finding.refusal, wish, finding),
  };
}

/** Particles in pixels are an answer to somebody who asked for no scale, and a refusal to somebody who did. */
const isRefused = (refusal: Refusal | null, wish: FindWish, finding: Finding): boolean =>
  refusal !== null &&
  !(refusal.why === 'no-scale' && wish.scale.from === 'nothing' && finding.scale === null);

/** Names for what is written: fit for any disk, and different even for photographs of one name from two folders. */
function freshNames(photos: readonly NamedPhoto[]): string[] {
  const taken = new Map<string, number>();
  return photos.map(({ name }) => {
    const plain =
      parse(photoName(name))
        .name.replace(/[<>:"|?*]/g, '_')
        .replace(/^-/, '_') || 'photograph';
    const before = taken.get(plain) ?? 0;
    taken.set(plain, before + 1);
    return before === 0 ? plain : `${plain} (${before + 1})`;
  });
}
