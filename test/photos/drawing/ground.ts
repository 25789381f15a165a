import type { Chance } from '../../../demo/drawing/chance.ts';
import { addValueNoise, newPlanes, type Planes } from './planes.ts';

export interface Ground {
  readonly colour: readonly [number, number, number];
  /** Standard deviation of the texture as a share of the ground's light, roughly. */
  readonly texture: number;
  /** Share of the texture made of pores and strands rather than clouds. */
  readonly pores: number;
}

/** A membrane of another make than the demo's: value-noise clouds, dark pores, pale strands. */
export function drawGround(width: number, height: number, ground: Ground, chance: Chance): Planes {
  const planes = newPlanes(width, height);
  const tone = new Float32Array(width * height).fill(1);
  const clouds = ground.texture * (1 - ground.pores);
  for (const [cell, share] of [
    [chance.between(1.6, 2.8), 0.7],
    [chance.between(4, 8), 0.5],
    [chance.between(14, 30), 0.4],
    [chance.between(90, 260), 0.6],
  ] as const) {
    addValueNoise(tone, width, height, cell, clouds * share, chance.branch(`clouds ${share} ${cell}`));
  }
  addPores(tone, width, height, ground.texture * ground.pores, chance.branch('pores'));
  addStrands(tone, width, height, ground.texture * ground.pores, chance.branch('strands'));
  ground.colour.forEach((level, c) => {
    const plane = planes.rgb[c]!;
    for (let i = 0; i < plane.length; i++) plane[i] = level * tone[i]!;
  });
  return planes;
}

function addPores(tone: Float32Array, width: number, height: number, size: number, chance: Chance): void {
  const pores = Math.round((width * height) / 55);
  for (let i = 0; i < pores; i++) {
    const x = chance.whole(1, width - 2);
    const y = chance.whole(1, height - 2);
    const depth = size * chance.between(0.6, 2.2);
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const at = (y + dy) * width + x + dx;
        tone[at] = tone[at]! - depth * (dx === 0 ? 1 : 0.45) * (dy === 0 ? 1 : 0.45);
      }
    }
  }
}

function addStrands(tone: Float32Array, width: number, height: number, size: number, chance: Chance): void {
  const strands = Math.round((width * height) / 900);
  for (let i = 0; i < strands; i++) {
    let x = chance.between(0, width);
    let y = chance.between(0, height);
    let heading = chance.between(0, 6.28);
    const turn = chance.normal() * 0.06;
    const lift = size * chance.between(-0.5, 1);
    for (let step = chance.whole(6, 40); step > 0; step--) {
      x += Math.cos(heading);
      y += Math.sin(heading);
      heading += turn;
      if (x < 1 || y < 1 || x >= width - 1 || y >= height - 1) break;
      const at = Math.floor(y) * width + Math.floor(x);
      tone[at] = tone[at]! + lift;
      tone[at + 1] = tone[at + 1]! + lift * 0.4;
    }
  }
}
