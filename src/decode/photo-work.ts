import type { PhotoWork } from '../actions/index.ts';
import { classicalFinder } from '../science/imaging/index.ts';
import { done } from '../units/index.ts';
import { colourOnPhoto } from './colour-inside.ts';
import { completenessOnPhotos } from './completeness-on-photos.ts';
import { verifyPhoto } from './decode-photo.ts';
import { type FindingCrew, findingCrew } from './finding-crew.ts';
import { readHead } from './photo-head.ts';

/** The deeds' port for decoding and finding, kept by a crew on this machine. `workFolder` takes unpacked large photographs. */
export function photoWork(workFolder?: string, crew: FindingCrew = findingCrew()): PhotoWork {
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
    async find(path, name, wish, progress) {
      const searched = await crew.search(
        { path, name, wish, ...(workFolder ? { workFolder } : {}) },
        progress,
      );
      return searched.ok ? done(searched.value.finding) : searched;
    },
    completeness: completenessOnPhotos,
    colourInside: colourOnPhoto,
    close: () => crew.close(),
  };
}
