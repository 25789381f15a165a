import type { MarkedParticleJson } from '../../api/index.ts';
import { type Stands, standsAs } from './deciding.ts';

/** An outline ready to draw: flat coordinates and the box around them, in pixels of the photo. */
export interface Outline {
  readonly id: string;
  readonly stands: Stands;
  readonly points: Float32Array;
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
  readonly area: number;
}

export function outlineOf(particle: MarkedParticleJson): Outline {
  const points = new Float32Array(particle.outline_px.length * 2);
  let left = Infinity;
  let top = Infinity;
  let right = -Infinity;
  let bottom = -Infinity;
  particle.outline_px.forEach(([x, y], k) => {
    points[2 * k] = x;
    points[2 * k + 1] = y;
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < top) top = y;
    if (y > bottom) bottom = y;
  });
  return {
    id: particle.id,
    stands: standsAs(particle),
    points,
    box: [left, top, right, bottom],
    area: particle.area_px2,
  };
}

/** From pixels of the photo to pixels of the canvas. */
export interface View {
  readonly scale: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The particle in hand, and those chosen with it. */
export interface Chosen {
  readonly id: string | null;
  readonly also: ReadonlySet<string>;
}
const isChosen = ({ id, also }: Chosen, one: string) => one === id || also.has(one);

/** On photographs colours stay the same in every theme: a white casing keeps them legible on any ground. */
const LOOK: { readonly [S in Stands]: { readonly ink: string; readonly dash: readonly number[] } } = {
  undecided: { ink: '#b34700', dash: [] },
  kept: { ink: '#006a78', dash: [] },
  dropped: { ink: '#4a4a4a', dash: [3, 4] },
  again: { ink: '#5a3d86', dash: [1, 4] },
};
const CASING = 'rgba(255,255,255,0.85)';
/** Beyond this many in view the white casing costs more than it shows. */
const CASED = 2500;

/** Draws what is in view: culled by box, one path for each way to stand, a box where an outline is under three pixels. */
export function drawOutlines(
  context: CanvasRenderingContext2D,
  outlines: readonly Outline[],
  view: View,
  chosen: Chosen,
): number {
  context.clearRect(0, 0, view.width, view.height);
  const shown = outlines.filter((outline) => inView(outline, view));
  context.lineJoin = 'round';
  for (const stands of ['dropped', 'again', 'kept', 'undecided'] as const) {
    const own = shown.filter((outline) => outline.stands === stands && !isChosen(chosen, outline.id));
    if (own.length === 0) continue;
    const path = pathOf(own, view);
    const { ink, dash } = LOOK[stands];
    if (shown.length <= CASED) {
      context.setLineDash([]);
      context.strokeStyle = CASING;
      context.lineWidth = 4;
      context.stroke(path);
    }
    context.setLineDash([...dash]);
    context.strokeStyle = ink;
    context.lineWidth = 2;
    context.stroke(path);
  }
  context.setLineDash([]);
  for (const own of shown) if (isChosen(chosen, own.id)) drawChosen(context, own, view, own.id === chosen.id);
  return shown.length;
}

function drawChosen(context: CanvasRenderingContext2D, own: Outline, view: View, first: boolean): void {
  const path = pathOf([own], view);
  const { ink, dash } = LOOK[own.stands];
  context.strokeStyle = CASING;
  context.lineWidth = 7;
  context.stroke(path);
  context.setLineDash([...dash]);
  context.strokeStyle = ink;
  context.lineWidth = 3.5;
  context.stroke(path);
  context.setLineDash([]);
  // Corners frame the one in hand; those chosen with it have the thick line alone.
  if (!first) return;
  const [left, top, right, bottom] = own.box;
  const pad = 12;
  const x = left * view.scale + view.x - pad;
  const y = top * view.scale + view.y - pad;
  const width = (right - left) * view.scale + 2 * pad;
  const height = (bottom - top) * view.scale + 2 * pad;
  const arm = Math.min(14, width / 3, height / 3);
  const corners = new Path2D();
  for (const [cx, cy, dx, dy] of [
    [x, y, 1, 1],
    [x + width, y, -1, 1],
    [x, y + height, 1, -1],
    [x + width, y + height, -1, -1],
  ] as const) {
    corners.moveTo(cx + dx * arm, cy);
    corners.lineTo(cx, cy);
    corners.lineTo(cx, cy + dy * arm);
  }
  context.strokeStyle = CASING;
  context.lineWidth = 5;
  context.stroke(corners);
  context.strokeStyle = '#111';
  context.lineWidth = 2;
  context.stroke(corners);
}

function pathOf(outlines: readonly Outline[], view: View): Path2D {
  const path = new Path2D();
  for (const { points, box } of outlines) {
    const width = (box[2] - box[0]) * view.scale;
    const height = (box[3] - box[1]) * view.scale;
    if (width < 3 && height < 3) {
      path.rect(box[0] * view.scale + view.x - 1, box[1] * view.scale + view.y - 1, 3, 3);
      continue;
    }
    // Points closer than a pixel on the screen draw the same line: a far view skips them.
    const step = 2 * Math.max(1, Math.floor(points.length / 2 / Math.max(8, (width + height) * 1.5)));
    path.moveTo(points[0]! * view.scale + view.x, points[1]! * view.scale + view.y);
    for (let k = step; k < points.length - 1; k += step) {
      path.lineTo(points[k]! * view.scale + view.x, points[k + 1]! * view.scale + view.y);
    }
    path.closePath();
  }
  return path;
}

const inView = ({ box }: Outline, view: View): boolean =>
  box[2] * view.scale + view.x >= 0 &&
  box[0] * view.scale + view.x <= view.width &&
  box[3] * view.scale + view.y >= 0 &&
  box[1] * view.scale + view.y <= view.height;

/** The smallest outline whose box, widened by `reach` photo pixels, holds the point; null where none does. */
export function outlineAt(outlines: readonly Outline[], x: number, y: number, reach: number): Outline | null {
  let best: Outline | null = null;
  for (const outline of outlines) {
    const [left, top, right, bottom] = outline.box;
    if (x < left - reach || x > right + reach || y < top - reach || y > bottom + reach) continue;
    if (best === null || outline.area < best.area) best = outline;
  }
  return best;
}
