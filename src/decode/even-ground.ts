/** The ground of a small cut, as a tilted plane: lamps fall off slowly over a few millimetres. */

export interface Ground {
  readonly middle: number;
  readonly alongX: number;
  readonly alongY: number;
  readonly x0: number;
  readonly y0: number;
}

const BLOCKS = 12;
/** Blocks farther from the middle one than this many median deviations hold pieces, print or the rim. */
const KEPT_WITHIN = 3;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** Fits a plane to the medians of blocks, those with pieces in them left out. */
export function fitGround(
  data: Uint8Array,
  width: number,
  height: number,
  channels: number,
  channel: number,
): Ground {
  const blocks: { x: number; y: number; z: number }[] = [];
  for (let j = 0; j < BLOCKS; j++) {
    for (let i = 0; i < BLOCKS; i++) {
      const left = Math.floor((i * width) / BLOCKS);
      const right = Math.max(left + 1, Math.floor(((i + 1) * width) / BLOCKS));
      const top = Math.floor((j * height) / BLOCKS);
      const bottom = Math.max(top + 1, Math.floor(((j + 1) * height) / BLOCKS));
      const stride = Math.max(1, Math.floor(Math.min(right - left, bottom - top) / 8));
      const values: number[] = [];
      for (let y = top; y < Math.min(bottom, height); y += stride) {
        for (let x = left; x < Math.min(right, width); x += stride)
          values.push(data[(y * width + x) * channels + channel]!);
      }
      if (values.length > 0) blocks.push({ x: (left + right) / 2, y: (top + bottom) / 2, z: median(values) });
    }
  }
  const middle = median(blocks.map((block) => block.z));
  const deviation = Math.max(2, median(blocks.map((block) => Math.abs(block.z - middle))));
  const kept = blocks.filter((block) => Math.abs(block.z - middle) <= KEPT_WITHIN * deviation);
  const n = kept.length;
  const x0 = kept.reduce((sum, block) => sum + block.x, 0) / n;
  const y0 = kept.reduce((sum, block) => sum + block.y, 0) / n;
  const z0 = kept.reduce((sum, block) => sum + block.z, 0) / n;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xz = 0;
  let yz = 0;
  for (const { x, y, z } of kept) {
    xx += (x - x0) ** 2;
    xy += (x - x0) * (y - y0);
    yy += (y - y0) ** 2;
    xz += (x - x0) * (z - z0);
    yz += (y - y0) * (z - z0);
  }
  const determinant = xx * yy - xy * xy;
  const flat = !(determinant > 1e-6 * xx * yy);
  return {
    middle: z0,
    alongX: flat ? 0 : (xz * yy - yz * xy) / determinant,
    alongY: flat ? 0 : (yz * xx - xz * xy) / determinant,
    x0,
    y0,
  };
}

export const groundAt = ({ middle, alongX, alongY, x0, y0 }: Ground, x: number, y: number): number =>
  middle + alongX * (x - x0) + alongY * (y - y0);
