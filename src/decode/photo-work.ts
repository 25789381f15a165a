import { join } from 'node:path';
import type { PhotoWork } from '../actions/index.ts';
import { classicalFinder } from '../science/imaging/index.ts';
import { done } from '../units/index.ts';
import { colourOnPhoto } from './colour-inside.ts';
import { completenessOnPhotos } from './completeness-on-photos.ts';
import { verifyPhoto } from './decode-photo.ts';
import { type FindingCrew, findingCrew } from './finding-crew.ts';
import { readHead } from './photo-head.ts';

/**
 * The deeds' port for decoding and finding, kept by a crew on this machine. `work` takes unpacked large photographs; into
 * `tiles` go their tiles, made while they lie unpacked, and how far their search has come.
 */
export function photoWork(
  folders: { readonly work?: string; readonly tiles?: string } = {},
  crew: FindingCrew = findingCrew(),
): PhotoWork {
  return {
    method: classicalFinder.method,
    version: classicalFinder.version,
    async inspect(path, name) {
      const head = await readHead(path, name);
      const sound = head.ok ? await verifyPhoto(path, name, head.value) : head;
      if (!sound.ok) return sound;
      const { format, width, height, orientation } = sound.value;
      return done({ format, widthPx: width, heightPx: height, orientation });
    },
    async find({ path, name, sha256 }, wish, progress) {
      const { work, tiles } = folders;
      const searched = await crew.search(
        {
          path,
          name,
          wish,
          ...(work ? { workFolder: work } : {}),
          ...(tiles ? { tiles: { folder: tiles, sha256 }, notes: join(tiles, `${sha256}.search`) } : {}),
        },
        progress,
      );
      return searched.ok ? done(searched.value.finding) : searched;
    },
    completeness: completenessOnPhotos,
    colourInside: colourOnPhoto,
    close: () => crew.close(),
  };
}
