/** Finding a piece again under another instrument: an affine map from marks that are seen in both. */
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';

export type Place = readonly [x: number, y: number];

export interface Landmark {
  readonly here: Place;
  readonly there: Place;
}

export interface Affine {
  /** there = (a·x + b·y + c, d·x + e·y + f). */
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
  /** Root mean square of what remains at the marks, in units of `there`; null with three marks, which fit exactly. */
  readonly remains: number | null;
}

export interface FinderRefusal extends Refusal {
  readonly why: 'too-few-marks' | 'marks-in-line';
}

/** Solves a 3 × 3 system by elimination with pivoting; null when it is singular. */
function solve3(m: number[][], v: number[]): [number, number, number] | null {
  const rows = m.map((row, i) => [...row, v[i]!]);
  const scale = Math.max(...m.flat().map(Math.abs));
  for (let col = 0; col < 3; col++) {
    let pivot = col;
    for (let r = col + 1; r < 3; r++) if (Math.abs(rows[r]![col]!) > Math.abs(rows[pivot]![col]!)) pivot = r;
    if (Math.abs(rows[pivot]![col]!) < 1e-10 * scale) return null;
    [rows[col], rows[pivot]] = [rows[pivot]!, rows[col]!];
    for (let r = 0; r < 3; r++) {
      if (r === col) continue;
      const factor = rows[r]![col]! / rows[col]![col]!;
      for (let k = col; k < 4; k++) rows[r]![k]! -= factor * rows[col]![k]!;
    }
  }
  return [rows[0]![3]! / rows[0]![0]!, rows[1]![3]! / rows[1]![1]!, rows[2]![3]! / rows[2]![2]!];
}

/**
 * The affine map (turn, scale, mirror, shear, shift) that takes the marks here to the marks there, by least squares.
 * Source: ordinary least squares. Holds for: flat filters; three marks or more, not in a line.
 * Deceives when: three marks only: they always fit, whatever was misread. A fourth shows it (`remains`).
 */
export function fitAffine(marks: readonly Landmark[]): Outcome<Affine, FinderRefusal> {
  if (marks.length < 3) {
    return refused({
      why: 'too-few-marks',
      message: `Finder: three marks are needed to find places again, given ${marks.length}; a fourth shows misreadings.`,
    });
  }
  const mx = marks.reduce((sum, m) => sum + m.here[0], 0) / marks.length;
  const my = marks.reduce((sum, m) => sum + m.here[1], 0) / marks.length;
  const rows = marks.map((m) => [m.here[0] - mx, m.here[1] - my, 1]);
  const normal = [0, 1, 2].map((i) => [0, 1, 2].map((j) => rows.reduce((sum, r) => sum + r[i]! * r[j]!, 0)));
  const right = (k: 0 | 1) =>
    [0, 1, 2].map((i) => rows.reduce((sum, r, m) => sum + r[i]! * marks[m]!.there[k], 0));
  // The marks' own spread across their line, against along it.
  const sxx = normal[0]![0]!;
  const syy = normal[1]![1]!;
  const sxy = normal[0]![1]!;
  const least = (sxx + syy) / 2 - Math.hypot((sxx - syy) / 2, sxy);
  const x = solve3(normal, right(0));
  const y = solve3(normal, right(1));
  if (!x || !y || least < 1e-4 * (sxx + syy)) {
    return refused({
      why: 'marks-in-line',
      message:
        'Finder: the marks lie in one line, so nothing is known across it; choose a third mark to the side.',
    });
  }
  const map = {
    a: x[0],
    b: x[1],
    c: x[2] - x[0] * mx - x[1] * my,
    d: y[0],
    e: y[1],
    f: y[2] - y[0] * mx - y[1] * my,
    remains: null,
  };
  if (marks.length === 3) return done(map);
  const off = marks.reduce((sum, m) => {
    const [px, py] = mapPlace(map, m.here);
    return sum + (px - m.there[0]) ** 2 + (py - m.there[1]) ** 2;
  }, 0);
  return done({ ...map, remains: Math.sqrt(off / (marks.length - 3)) });
}

export const mapPlace = ({ a, b, c, d, e, f }: Affine, [x, y]: Place): Place => [
  a * x + b * y + c,
  d * x + e * y + f,
];
