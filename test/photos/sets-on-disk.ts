/** Drawn photographs of the measuring sets, kept in .cache/photos and drawn when missing or when the drawing code has changed. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import type { PhotoTruth } from '../../demo/drawing/truth.ts';
import { drawExamplePhotographs, examplePhotographs } from '../../demo/photographs/index.ts';
import { composePhoto, type TestRecipe, type TestTruth } from './drawing/compose.ts';
import { type Family, recipesOf, type SetName } from './drawing/sets.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const CACHE = join(ROOT, '.cache', 'photos');

export interface StoredPhoto {
  readonly name: string;
  readonly path: string;
  readonly truth: TestTruth;
}

/** Changes whenever a file of the drawing code changes, so that no stale photograph is measured. */
export function drawingVersion(): string {
  const hash = createHash('sha256');
  for (const folder of ['demo/drawing', 'test/photos/drawing']) {
    for (const name of readdirSync(join(ROOT, folder)).sort()) {
      if (name.endsWith('.ts') && !name.endsWith('.test.ts'))
        hash.update(readFileSync(join(ROOT, folder, name)));
    }
  }
  return hash.digest('hex').slice(0, 12);
}

/** One photograph of a set, drawn now if need be. */
export async function storedPhoto(recipe: TestRecipe, version: string): Promise<StoredPhoto> {
  const folder = join(CACHE, version);
  mkdirSync(folder, { recursive: true });
  const stem = join(folder, `${recipe.name}-${recipe.seed}`);
  const path = `${stem}.jpg`;
  const truthPath = `${stem}.truth.json`;
  if (!existsSync(truthPath)) {
    const photo = composePhoto(recipe);
    const raw = { width: photo.width, height: photo.height, channels: 3 as const };
    await sharp(photo.pixels, { raw })
      .jpeg({ quality: recipe.jpegQuality, chromaSubsampling: recipe.jpegQuality > 88 ? '4:4:4' : '4:2:0' })
      .toFile(path);
    // The truth is written last and moved into place: a photograph without one is drawn again.
    writeFileSync(`${truthPath}.part`, JSON.stringify(photo.truth));
    renameSync(`${truthPath}.part`, truthPath);
  }
  return { name: recipe.name, path, truth: JSON.parse(readFileSync(truthPath, 'utf8')) };
}

export async function* storedSet(set: SetName, family: Family, only?: number): AsyncGenerator<StoredPhoto> {
  const version = drawingVersion();
  for (const [i, recipe] of recipesOf(set, family).entries()) {
    if (only === undefined || only === i + 1) yield await storedPhoto(recipe, version);
  }
}

/** The photographs of the example laboratory, drawn into the cache; everything on them is large enough to be seen. */
export async function* storedExample(only?: number): AsyncGenerator<StoredPhoto> {
  const folder = join(CACHE, drawingVersion(), 'example');
  const listed = examplePhotographs().filter((p) => !p.clogged);
  if (!listed.every((p) => existsSync(join(folder, p.truthFile)))) await drawExamplePhotographs(folder, 1);
  for (const [i, photo] of listed.entries()) {
    if (only !== undefined && only !== i + 1) continue;
    const truth: PhotoTruth = JSON.parse(readFileSync(join(folder, photo.truthFile), 'utf8'));
    const shown = { change: 1, distinctness: 100, visible: true };
    const pieces = truth.pieces.map((piece) => ({ ...piece, shown }));
    yield { name: photo.name, path: join(folder, photo.file), truth: { ...truth, pieces } };
  }
}
