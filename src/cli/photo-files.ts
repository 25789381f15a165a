import { readdir, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';

/** A photograph named on the command line, by itself or through its folder. */
export interface NamedPhoto {
  readonly path: string;
  readonly name: string;
}

const PHOTO_ENDING = /\.(jpe?g|png|tiff?)$/i;

/** Files as given, and the photographs of folders in order of name. An empty folder is told by `empty`. */
export async function namedPhotos(
  given: readonly string[],
): Promise<{ readonly photos: readonly NamedPhoto[]; readonly empty: readonly string[] }> {
  const photos: NamedPhoto[] = [];
  const empty: string[] = [];
  for (const path of given) {
    if (!(await isFolder(path))) {
      photos.push({ path, name: basename(path) });
      continue;
    }
    const inside = (await readdir(path)).filter((name) => PHOTO_ENDING.test(name)).sort();
    if (inside.length === 0) empty.push(path);
    photos.push(...inside.map((name) => ({ path: join(path, name), name })));
  }
  return { photos, empty };
}

async function isFolder(path: string): Promise<boolean> {
  try {
    return (await stat(path)).isDirectory();
  } catch {
    // Missing or unreadable: reading the photograph says so in its own sentence.
    return false;
  }
}
