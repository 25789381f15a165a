import type { CompletenessJson } from '../api/index.ts';
import type { PhotoSearch } from '../cli/index.ts';
import { decodePhoto, readHead, WHOLE_PIXELS } from '../decode/index.ts';
import type { Floor } from '../science/imaging/completeness/chance-of-finding.ts';
import { type Completeness, completenessSteps } from '../science/imaging/completeness/completeness.ts';
import { USUAL_DESIGN } from '../science/imaging/completeness/design.ts';
import { classicalFinder, type Picture } from '../science/imaging/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';

/** Controls held in memory at once; more would tell little more and cost much. */
const MOST_PHOTOS = 8;

export const completeness: PhotoSearch['completeness'] = async (photos, wish, told, signal) => {
  const controls: { name: string; open: () => Picture }[] = [];
  for (const { path, name } of photos.slice(0, MOST_PHOTOS)) {
    const head = await readHead(path, name);
    if (!head.ok) return head;
    if (head.value.width * head.value.height > WHOLE_PIXELS) {
      return refused({
        why: 'too-many-pixels',
        message: `“${name}” is too large to draw known pieces into: give a control of at most ${WHOLE_PIXELS / 1e6} megapixels.`,
      });
    }
    const picture = await decodePhoto(path, name, head.value);
    if (!picture.ok) return picture;
    controls.push({ name, open: () => picture.value });
  }
  const steps = completenessSteps(controls, classicalFinder, wish, USUAL_DESIGN);
  for (;;) {
    const step = steps.next();
    if (step.done) return asJson(step.value);
    told(step.value.done, step.value.total);
    // Lets Ctrl-C be heard between two searches.
    await new Promise((resume) => setImmediate(resume));
    if (signal.aborted)
      return refused({ why: 'stopped', message: 'Stopped before the end; start it again.' });
  }
};

const floorJson = (floor: Floor) => ({
  chance: floor.chance,
  size_um: floor.sizeUm,
  lower_um: floor.lowerUm,
  upper_um: floor.upperUm,
  because: floor.because,
});

function asJson(outcome: Outcome<Completeness>): Outcome<CompletenessJson> {
  if (!outcome.ok) return outcome;
  const { method, version, photographs, drawn, notDrawn, cells, floors, blurPx, confidence, seed } =
    outcome.value;
  return done({
    format: 'retentate/completeness/1',
    method: { name: method, version },
    photographs,
    drawn,
    not_drawn: notDrawn,
    blur_px: blurPx,
    confidence,
    seed,
    floors: floors.map(({ shape, contrast, half, nineTenths }) => ({
      shape,
      contrast,
      half: floorJson(half),
      nine_tenths: floorJson(nineTenths),
    })),
    cells: cells.map(({ sizeUm, ...rest }) => ({ ...rest, size_um: sizeUm })),
  });
}
