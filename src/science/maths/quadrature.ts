/** Points and weights of a rule: Σ weights·f(points). */
export interface Rule {
  readonly points: Float64Array;
  readonly weights: Float64Array;
}

const legendreRules = new Map<number, Rule>();
const hermiteRules = new Map<number, Rule>();

/** Gauss–Legendre rule of n points on −1…1. Source: Abramowitz & Stegun 1964, 25.4.29; roots by Newton. */
export function gaussLegendre(n: number): Rule {
  const known = legendreRules.get(n);
  if (known) return known;
  const points = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < (n + 1) / 2; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let turn = 0; turn < 100; turn++) {
      let p1 = 1;
      let p0 = 0;
      for (let j = 1; j <= n; j++) {
        const next = ((2 * j - 1) * x * p1 - (j - 1) * p0) / j;
        p0 = p1;
        p1 = next;
      }
      slope = (n * (x * p1 - p0)) / (x * x - 1);
      const step = p1 / slope;
      x -= step;
      if (Math.abs(step) < 1e-15) break;
    }
    points[i] = -x;
    points[n - 1 - i] = x;
    const weight = 2 / ((1 - x * x) * slope * slope);
    weights[i] = weight;
    weights[n - 1 - i] = weight;
  }
  const rule = { points, weights };
  legendreRules.set(n, rule);
  return rule;
}

/**
 * Gauss–Hermite rule of n points for a standard normal variable: Σ w·f(z) ≈ E f(Z), weights add to 1.
 * Roots are bracketed between those of the rule before (they interlace), so none is missed.
 * Source: Abramowitz & Stegun 1964, 25.4.46, rescaled by √2.
 */
export function gaussHermite(n: number): Rule {
  const known = hermiteRules.get(n);
  if (known) return known;
  /** Orthonormal Hermite functions of the normal weight, without e^{−z²/2}: value at degree n and n − 1. */
  const at = (z: number, degree: number): [number, number] => {
    let p1 = 1;
    let p0 = 0;
    for (let j = 1; j <= degree; j++) {
      const next = (z * p1 - Math.sqrt(j - 1) * p0) / Math.sqrt(j);
      p0 = p1;
      p1 = next;
    }
    return [p1, p0];
  };
  let roots: number[] = [];
  for (let degree = 1; degree <= n; degree++) {
    const edge = 2 * Math.sqrt(degree) + 1;
    const fences = [-edge, ...roots, edge];
    roots = fences.slice(1).map((high, i) => {
      let a = fences[i]!;
      let b = high;
      const rising = at(a, degree)[0] < 0;
      let z = (a + b) / 2;
      for (let turn = 0; turn < 100; turn++) {
        const [p, before] = at(z, degree);
        if (p < 0 === rising) a = z;
        else b = z;
        let next = z - p / (Math.sqrt(degree) * before);
        if (!(next > a && next < b)) next = (a + b) / 2;
        if (Math.abs(next - z) <= 1e-15 * Math.max(1, Math.abs(z))) return next;
        z = next;
      }
      return z;
    });
  }
  const points = Float64Array.from(roots, (z, i) => (n % 2 === 1 && i === (n - 1) / 2 ? 0 : z));
  const weights = points.map((z) => 1 / (n * at(z, n)[1] ** 2));
  const rule = { points, weights };
  hermiteRules.set(n, rule);
  return rule;
}

const LOOK = 15;

function panel(f: (x: number) => number, low: number, high: number): number {
  const { points, weights } = gaussLegendre(LOOK);
  const middle = (low + high) / 2;
  const half = (high - low) / 2;
  let sum = 0;
  for (let i = 0; i < LOOK; i++) sum += weights[i]! * f(middle + half * points[i]!);
  return sum * half;
}

/**
 * ∫ f over a finite stretch: 15-point panels, halved where the halves disagree with the whole.
 * `tolerance` is relative to the integral of |f|'s first estimate, or to `scale` where that is larger (a probability, say,
 * need be no nearer than to a share of 1). Deceives when: f has a spike narrower than a panel.
 */
export function integrate(
  f: (x: number) => number,
  low: number,
  high: number,
  tolerance = 1e-10,
  scale = 1e-300,
): number {
  const pieces = 4;
  const width = (high - low) / pieces;
  let rough = 0;
  const stack: [number, number, number, number][] = [];
  for (let i = 0; i < pieces; i++) {
    const a = low + i * width;
    const b = i === pieces - 1 ? high : a + width;
    const whole = panel(f, a, b);
    rough += Math.abs(whole);
    stack.push([a, b, whole, 0]);
  }
  let sum = 0;
  while (stack.length > 0) {
    const [a, b, whole, depth] = stack.pop()!;
    const middle = (a + b) / 2;
    const left = panel(f, a, middle);
    const right = panel(f, middle, b);
    const gap = Math.abs(left + right - whole);
    if (gap <= (tolerance * Math.max(rough, scale)) / 2 ** (depth / 2) || depth > 40) sum += left + right;
    else stack.push([a, middle, left, depth + 1], [middle, b, right, depth + 1]);
  }
  return sum;
}
