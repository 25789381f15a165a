import sharp from 'sharp';
import type { Finding, Particle, Shape } from '../science/imaging/index.ts';
import { OPENING } from './pixels.ts';

/** Longest side of an outlined picture: enough to see each piece, small enough to send. */
const LONGEST = 4000;

/** Stroke by shape; chosen to differ for colour-blind eyes too (hues after Okabe and Ito, 2008) on white and dark membranes. */
const STROKE: Readonly<Record<Shape, string>> = {
  fragment: '#d55e00',
  fibre: '#0072b2',
  film: '#009e73',
  foam: '#e69f00',
  bead: '#cc79a7',
};

/** Writes the photograph with its particles outlined and numbered, as JPEG. The original is only read. */
export async function drawOutlines(path: string, finding: Finding, into: string): Promise<void> {
  const { data, info } = await sharp(path, OPENING)
    .autoOrient()
    .resize(LONGEST, LONGEST, { fit: 'inside', withoutEnlargement: true })
    .toColourspace('srgb')
    .flatten({ background: '#ffffff' })
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true });
  const { autoOrient } = await sharp(path, OPENING).metadata();
  const factor = info.width / autoOrient.width;
  const { width, height, channels } = info;
  const shapes = finding.particles.map((p, at) => drawn(p, at + 1, factor)).join('');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" fill="none" font-family="sans-serif" font-size="14">${shapes}</svg>`;
  await sharp(data, { raw: { width, height, channels: channels as 3 } })
    .composite([{ input: Buffer.from(svg) }])
    .jpeg({ quality: 88 })
    .toFile(into);
}

function drawn(p: Particle, number: number, factor: number): string {
  const points = p.outlinePx
    .map(([x, y]) => `${(x * factor).toFixed(1)},${(y * factor).toFixed(1)}`)
    .join(' ');
  const right = Math.max(...p.outlinePx.map(([x]) => x)) * factor + 4;
  const colour = STROKE[p.shape];
  // A pale halo keeps the number readable on print and on dark pieces.
  const label = `x="${right.toFixed(1)}" y="${(p.centroidPx[1] * factor + 5).toFixed(1)}"`;
  return (
    `<polygon points="${points}" stroke="${colour}" stroke-width="2"/>` +
    `<text ${label} stroke="#ffffff" stroke-width="3">${number}</text><text ${label} fill="${colour}">${number}</text>`
  );
}
