/** Measured on what nobody here drew: cell nuclei with exact masks (CC0), when ../shared/data/images is there. Not our trade, but blobs that touch. */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { classicalFinder, type Particle } from '../../src/science/imaging/index.ts';
import { median } from './figures.ts';
import { openPhoto } from './open-photo.ts';

interface Listed {
  readonly file: string;
  readonly label_image: string;
  readonly width: number;
  readonly height: number;
  readonly kind: string;
  readonly count: number;
}

const FOLDER = fileURLToPath(new URL('../../../shared/data/images/', import.meta.url));

/** The share of counts, overlaps and areas that agree, in words; says why where the pictures are absent. */
export async function measureNuclei(): Promise<string> {
  if (!existsSync(`${FOLDER}truth.json`)) {
    return 'Nuclei: not measured, because ../shared/data/images is not here.';
  }
  const listed: Listed[] = JSON.parse(readFileSync(`${FOLDER}truth.json`, 'utf8'));
  const lines: string[] = [];
  let [hits, misses, extra] = [0, 0, 0];
  const areas: number[] = [];
  const counts: number[] = [];
  for (const picture of listed) {
    const photo = await openPhoto(FOLDER + picture.file);
    const labels = await sharp(FOLDER + picture.label_image)
      .toColourspace('grey16')
      .raw({ depth: 'ushort' })
      .toBuffer({ resolveWithObject: true });
    const ids = new Uint16Array(labels.data.buffer, labels.data.byteOffset, labels.data.byteLength / 2);
    const finding = classicalFinder.find(photo, {
      scale: { from: 'nothing' },
      smallest: null,
      falseFindsPerBlank: 0.5,
    });
    const result = matchLabels(ids, labels.info.channels, picture.width, picture.height, finding.particles);
    hits += result.hits;
    misses += result.objects - result.hits;
    extra += finding.particles.length - result.hits;
    areas.push(...result.areaErrors);
    counts.push(Math.abs(finding.particles.length / Math.max(1, result.objects) - 1));
    lines.push(
      `  ${picture.file.slice(7, 19)} ${picture.kind}: ${result.objects} true, ${finding.particles.length} found, ${result.hits} matched${finding.refusal ? ` (${finding.refusal.why})` : ''}`,
    );
  }
  const f = (2 * hits) / (2 * hits + misses + extra);
  return [
    `Nuclei (${listed.length} pictures, exact masks, CC0; matched at an overlap of at least 0.5):`,
    `F1 ${f.toFixed(3)}, counting error of the median picture ${(100 * median(counts)).toFixed(1)} %, median area error ${areas.length ? (100 * median(areas)).toFixed(1) : '–'} %`,
    ...lines,
  ].join('\n');
}

function matchLabels(
  ids: Uint16Array,
  channels: number,
  width: number,
  height: number,
  particles: readonly Particle[],
): { hits: number; objects: number; areaErrors: number[] } {
  const areas = new Map<number, number>();
  for (let i = 0; i < width * height; i++) {
    const id = ids[i * channels]!;
    if (id) areas.set(id, (areas.get(id) ?? 0) + 1);
  }
  const pairs: { id: number; p: number; overlap: number }[] = [];
  particles.forEach((particle, p) => {
    const seen = new Map<number, number>();
    let all = 0;
    for (const [x, y] of pixelsIn(particle, width, height)) {
      all++;
      const id = ids[(y * width + x) * channels]!;
      if (id) seen.set(id, (seen.get(id) ?? 0) + 1);
    }
    for (const [id, both] of seen) pairs.push({ id, p, overlap: both / (all + areas.get(id)! - both) });
  });
  pairs.sort((a, b) => b.overlap - a.overlap);
  const usedIds = new Set<number>();
  const usedParticles = new Set<number>();
  const areaErrors: number[] = [];
  for (const { id, p, overlap } of pairs) {
    if (overlap < 0.5 || usedIds.has(id) || usedParticles.has(p)) continue;
    usedIds.add(id);
    usedParticles.add(p);
    areaErrors.push(Math.abs(particles[p]!.areaPx2 / areas.get(id)! - 1));
  }
  return { hits: usedIds.size, objects: areas.size, areaErrors };
}

/** Pixels whose middle lies in the outline (crossing count, row by row). */
function* pixelsIn(particle: Particle, width: number, height: number): Generator<readonly [number, number]> {
  const outline = particle.outlinePx;
  const ys = outline.map((p) => p[1]);
  for (let y = Math.max(0, Math.floor(Math.min(...ys))); y <= Math.min(height - 1, Math.max(...ys)); y++) {
    const crossings: number[] = [];
    outline.forEach(([ax, ay], i) => {
      const [bx, by] = outline[(i + 1) % outline.length]!;
      if (ay > y + 0.5 !== by > y + 0.5) crossings.push(ax + ((y + 0.5 - ay) / (by - ay)) * (bx - ax));
    });
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      for (
        let x = Math.max(0, Math.ceil(crossings[k]! - 0.5));
        x <= Math.min(width - 1, crossings[k + 1]! - 0.5);
        x++
      ) {
        yield [x, y];
      }
    }
  }
}
