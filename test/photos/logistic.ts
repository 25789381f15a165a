/** Weights of a logistic law, by Newton's steps, with a ridge of one candidate's weight so that no weight runs away. */

/** Solves a·x = b by elimination with pivots. */
function solve(a: number[][], b: number[]): number[] {
  const n = b.length;
  const m = a.map((row, i) => [...row, b[i]!]);
  for (let k = 0; k < n; k++) {
    let p = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(m[i]![k]!) > Math.abs(m[p]![k]!)) p = i;
    [m[k], m[p]] = [m[p]!, m[k]!];
    for (let i = k + 1; i < n; i++) {
      const f = m[i]![k]! / m[k]![k]!;
      for (let j = k; j <= n; j++) m[i]![j]! -= f * m[k]![j]!;
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let k = n - 1; k >= 0; k--) {
    let s = m[k]![n]!;
    for (let j = k + 1; j < n; j++) s -= m[k]![j]! * x[j]!;
    x[k] = s / m[k]![k]!;
  }
  return x;
}

/** `rows` begin with a 1; `yes` tells what each came to. Gives the offset and the weights. */
export function fitLogistic(rows: readonly (readonly number[])[], yes: readonly boolean[]): number[] {
  const n = rows[0]!.length;
  let w = new Array<number>(n).fill(0);
  for (let turn = 0; turn < 40; turn++) {
    const g = w.map((v, k) => (k === 0 ? 0 : -v));
    const h = Array.from({ length: n }, (_, i) =>
      Array.from({ length: n }, (_, k) => (i === k ? (i === 0 ? 1e-6 : 1) : 0)),
    );
    rows.forEach((row, r) => {
      const p = logistic(row, w);
      for (let i = 0; i < n; i++) {
        g[i]! += row[i]! * ((yes[r] ? 1 : 0) - p);
        for (let k = 0; k < n; k++) h[i]![k]! += p * (1 - p) * row[i]! * row[k]!;
      }
    });
    const step = solve(h, g);
    w = w.map((v, k) => v + step[k]!);
    if (Math.max(...step.map(Math.abs)) < 1e-7) break;
  }
  return w;
}

export const logistic = (row: readonly number[], w: readonly number[]): number =>
  1 / (1 + Math.exp(-row.reduce((s, v, k) => s + v * w[k]!, 0)));

/** What is said against what is so, in tenths, and what limits would keep and lose. */
export function saidAndSo(said: readonly { readonly chance: number; readonly so: boolean }[]): string {
  const lines: string[] = [];
  for (let k = 0; k < 10; k++) {
    const own = said.filter((s) => Math.min(9, Math.floor(s.chance * 10)) === k);
    if (own.length === 0) continue;
    const mean = own.reduce((s, c) => s + c.chance, 0) / own.length;
    const so = own.filter((c) => c.so).length / own.length;
    lines.push(`  said ${mean.toFixed(2)}  so ${so.toFixed(2)}  of ${own.length}`);
  }
  const loss = said.reduce((s, c) => s - Math.log(Math.max(1e-9, c.so ? c.chance : 1 - c.chance)), 0);
  lines.push(`  mean log loss ${(loss / said.length).toFixed(4)}`);
  for (const limit of [0.35, 0.4, 0.45, 0.5, 0.55, 0.65, 0.75]) {
    const wrong = said.filter((s) => s.chance >= limit && !s.so).length;
    const lost = said.filter((s) => s.chance < limit && s.so).length;
    lines.push(`  from ${limit}: ${wrong} taken wrongly, ${lost} lost`);
  }
  return lines.join('\n');
}
