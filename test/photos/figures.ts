/** The figures told of a set of judged photographs. */
import { chanceFrom } from '../../demo/drawing/chance.ts';
import type { FalseKind, JudgedPhoto } from './judge-photo.ts';

export interface Ranged {
  readonly value: number;
  readonly lower: number;
  readonly upper: number;
}

export const median = (values: readonly number[]): number => {
  if (values.length === 0) throw new RangeError('median: at least one value is needed, given none');
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
};

/** Wilson's 95 % interval of a share (Wilson 1927), z = 1.959964. */
export function wilson(k: number, n: number): Ranged {
  if (n === 0) throw new RangeError('share: at least one trial is needed, given 0');
  const z2 = 1.959964 ** 2;
  const p = k / n;
  const middle = (p + z2 / (2 * n)) / (1 + z2 / n);
  const half = (1.959964 / (1 + z2 / n)) * Math.sqrt((p * (1 - p)) / n + z2 / (4 * n * n));
  return { value: p, lower: middle - half, upper: middle + half };
}

/** 95 % percentile bootstrap over photographs (they are the independent units), 500 seeded draws. */
export function bootstrap(
  photos: readonly JudgedPhoto[],
  figure: (photos: readonly JudgedPhoto[]) => number | null,
): Ranged | null {
  const value = figure(photos);
  if (value === null) return null;
  const chance = chanceFrom(11, 'bootstrap');
  const draws: number[] = [];
  for (let i = 0; i < 500; i++) {
    const drawn = figure(photos.map(() => chance.pick(photos)));
    if (drawn !== null) draws.push(drawn);
  }
  draws.sort((a, b) => a - b);
  const at = (q: number): number => draws[Math.min(draws.length - 1, Math.floor(q * draws.length))]!;
  return { value, lower: at(0.025), upper: at(0.975) };
}

const sum = (photos: readonly JudgedPhoto[], count: (p: JudgedPhoto) => number): number =>
  photos.reduce((s, p) => s + count(p), 0);

/** 2·hits / (2·hits + misses + false finds). */
export function f1(photos: readonly JudgedPhoto[]): number | null {
  const hits = sum(photos, (p) => p.hits.length);
  const wrong = sum(photos, (p) => p.misses.length + p.falseFinds.length);
  return hits + wrong === 0 ? null : (2 * hits) / (2 * hits + wrong);
}

export const recall = (photos: readonly JudgedPhoto[]): Ranged | null => shareFound(photos, () => true);

/** Recall among the pieces that `which` picks. */
export function shareFound(
  photos: readonly JudgedPhoto[],
  which: (piece: JudgedPhoto['misses'][number]) => boolean,
): Ranged | null {
  const hits = sum(photos, (p) => p.hits.filter((h) => which(h.piece)).length);
  const misses = sum(photos, (p) => p.misses.filter(which).length);
  return hits + misses === 0 ? null : wilson(hits, hits + misses);
}

export function precision(photos: readonly JudgedPhoto[]): Ranged | null {
  const hits = sum(photos, (p) => p.hits.length);
  const wrong = sum(photos, (p) => p.falseFinds.length);
  return hits + wrong === 0 ? null : wilson(hits, hits + wrong);
}

const countError = (p: JudgedPhoto): number | null => {
  const truth = p.hits.length + p.misses.length;
  return truth === 0 ? null : (p.hits.length + p.falseFinds.length) / truth - 1;
};

/** Finds against pieces, all photographs together. */
export function countErrorInTotal(photos: readonly JudgedPhoto[]): number | null {
  const truth = sum(photos, (p) => p.hits.length + p.misses.length);
  return truth === 0 ? null : sum(photos, (p) => p.hits.length + p.falseFinds.length) / truth - 1;
}

export function countErrorMedian(photos: readonly JudgedPhoto[]): number | null {
  const errors = photos.map(countError).filter((e) => e !== null);
  return errors.length === 0 ? null : median(errors.map(Math.abs));
}

/** Relative errors of a measure over the hits that lie wholly in the frame; µm where the photograph got a scale. */
export function errorsOf(
  photos: readonly JudgedPhoto[],
  measure: 'feret' | 'area' | 'fibre length',
): number[] {
  return photos.flatMap((photo) =>
    photo.hits
      .filter(({ piece, particle }) => !piece.touches_frame && !particle.touchesFrame)
      .flatMap(({ piece, particle }) => {
        const px = piece.feret_max_px / piece.feret_max_um;
        if (measure === 'feret')
          return [(particle.feretMaxUm ?? particle.feretMaxPx / px) / piece.feret_max_um - 1];
        if (measure === 'area')
          return [(particle.areaUm2 ?? particle.areaPx2 / px ** 2) / piece.area_um2 - 1];
        if (piece.fibre_length_um === null || particle.fibreLengthUm === null) return [];
        return [particle.fibreLengthUm / piece.fibre_length_um - 1];
      }),
  );
}

export function falseFindsByKind(photos: readonly JudgedPhoto[]): Map<FalseKind, number> {
  const kinds = new Map<FalseKind, number>();
  for (const { kind } of photos.flatMap((p) => p.falseFinds)) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
  return new Map([...kinds].sort((a, b) => b[1] - a[1]));
}

/** Said certainty against the share that was real, in five classes, and the mean gap weighted by numbers. */
export function calibration(photos: readonly JudgedPhoto[]): {
  classes: { said: number; real: number; n: number }[];
  gap: number | null;
} {
  const all = photos.flatMap((p) => p.certainties);
  const classes = [0, 1, 2, 3, 4]
    .map((k) => all.filter((c) => Math.min(4, Math.floor(c.said * 5)) === k))
    .filter((group) => group.length > 0)
    .map((group) => ({
      said: group.reduce((s, c) => s + c.said, 0) / group.length,
      real: group.filter((c) => c.real).length / group.length,
      n: group.length,
    }));
  const gap = all.length
    ? classes.reduce((s, c) => s + (c.n / all.length) * Math.abs(c.said - c.real), 0)
    : null;
  return { classes, gap };
}
