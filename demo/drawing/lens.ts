import type { Spot } from './outline-measures.ts';

/**
 * Where a place on the filter (µm, origin under the middle of the photograph) falls in the photograph (px):
 * turned, scaled, and drawn outwards or inwards by the lens.
 */
export interface Lens {
  readonly width: number;
  readonly height: number;
  readonly umPerPx: number;
  readonly turnRad: number;
  readonly distortion: number;
  toPhoto(x: number, y: number): Spot;
  toFilter(x: number, y: number): Spot;
}

export function lensWith(
  width: number,
  height: number,
  umPerPx: number,
  turnRad: number,
  distortion: number,
): Lens {
  const cos = Math.cos(turnRad) / umPerPx;
  const sin = Math.sin(turnRad) / umPerPx;
  const unit = 1 / (Math.hypot(width, height) / 2) ** 2;
  const toPhoto = (x: number, y: number): Spot => {
    const u = cos * x - sin * y;
    const v = sin * x + cos * y;
    const g = 1 + distortion * unit * (u * u + v * v);
    return [width / 2 + u * g, height / 2 + v * g];
  };
  const toFilter = (px: number, py: number): Spot => {
    const dx = px - width / 2;
    const dy = py - height / 2;
    let g = 1;
    // A fixed point: the distortion is a few per cent at most, so each turn gains two digits or more.
    for (let i = 0; i < 12; i++) g = 1 + (distortion * unit * (dx * dx + dy * dy)) / (g * g);
    const u = dx / g;
    const v = dy / g;
    const scale = umPerPx * umPerPx;
    return [(cos * u + sin * v) * scale, (-sin * u + cos * v) * scale];
  };
  return { width, height, umPerPx, turnRad, distortion, toPhoto, toFilter };
}
