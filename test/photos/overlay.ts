import sharp from 'sharp';
import type { Spot } from '../../demo/drawing/outline-measures.ts';
import type { JudgedPhoto } from './judge-photo.ts';

const path = (outline: readonly Spot[], grow = 0): string => {
  const mx = outline.reduce((s, p) => s + p[0], 0) / outline.length;
  const my = outline.reduce((s, p) => s + p[1], 0) / outline.length;
  const points = outline.map(([x, y]) => {
    const d = Math.hypot(x - mx, y - my) || 1;
    return `${(x + ((x - mx) / d) * grow).toFixed(1)},${(y + ((y - my) / d) * grow).toFixed(1)}`;
  });
  return `M${points.join('L')}Z`;
};

/** The photograph with hits (green, true outline thin blue), misses (red) and false finds (magenta, with their kind) drawn on it. */
export async function drawOverlay(photo: string, judged: JudgedPhoto, to: string): Promise<void> {
  const { width, height } = await sharp(photo).metadata();
  const parts: string[] = [];
  for (const { piece, particle } of judged.hits) {
    parts.push(`<path d="${path(piece.outline_px)}" stroke="#2050ff" stroke-width="0.7"/>`);
    parts.push(`<path d="${path(particle.outlinePx)}" stroke="#00b020" stroke-width="1"/>`);
  }
  for (const piece of judged.misses) {
    const [x, y] = piece.centroid_px;
    parts.push(`<path d="${path(piece.outline_px, 4)}" stroke="#ff2000" stroke-width="2"/>`);
    parts.push(
      `<text x="${x + 8}" y="${y - 8}" fill="#ff2000">${piece.colour} ${piece.shape} ${Math.round(piece.feret_max_um)}${piece.cluster ? ' cluster' : ''}${piece.on_line ? ' line' : ''}</text>`,
    );
  }
  for (const { particle, kind } of judged.falseFinds) {
    const [x, y] = particle.centroidPx;
    parts.push(`<path d="${path(particle.outlinePx, 3)}" stroke="#ff00ff" stroke-width="2"/>`);
    parts.push(
      `<text x="${x + 8}" y="${y + 14}" fill="#d000d0">${kind} ${(particle.certainty?.real ?? 1).toFixed(2)}</text>`,
    );
  }
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" font-size="13" font-family="sans-serif"><g fill="none">${parts.filter((p) => p.startsWith('<path')).join('')}</g>${parts.filter((p) => p.startsWith('<text')).join('')}</svg>`;
  await sharp(photo)
    .composite([{ input: Buffer.from(svg), left: 0, top: 0 }])
    .png()
    .toFile(to);
}
