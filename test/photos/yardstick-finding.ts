import { askYardstick, pythonWith } from '../../bench-times/imaging-yardstick.ts';
import { centreOf } from '../../demo/drawing/outline-measures.ts';
import { um, um2 } from '../../src/units/index.ts';
import type { JudgedFinding } from './judge-photo.ts';

/** The yardstick's answer in the form that is judged. It states no floor; pieces under four pixels are not asked of it. */
export async function yardstickFinding(
  path: string,
  pitchMm: number,
  library: string,
): Promise<JudgedFinding> {
  if (library !== 'opencv' && library !== 'skimage') {
    throw new RangeError(`finder: classical, opencv or skimage is needed, given ${library}`);
  }
  const python = await pythonWith(library);
  if (!python) throw new Error(`No Python with ${library} was found here (python3-${library}).`);
  const answer = await askYardstick(python, path, pitchMm, library, { outlines: true });
  const scale = answer.um_per_px;
  return {
    floorPx: 4,
    scale: scale === null ? null : { umPerPx: scale },
    refusal: scale === null ? { why: 'no-scale' } : null,
    particles: (answer.particles ?? []).map((p) => ({
      outlinePx: p.outline_px,
      centroidPx: centreOf(p.outline_px),
      areaPx2: p.area_px2,
      feretMaxPx: p.feret_max_px,
      areaUm2: scale === null ? null : um2(p.area_px2 * scale * scale),
      feretMaxUm: scale === null ? null : um(p.feret_max_px * scale),
      fibreLengthUm: null,
      touchesFrame: false,
    })),
  };
}
