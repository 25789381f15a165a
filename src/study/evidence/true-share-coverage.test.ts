import { describe, expect, it } from 'vitest';
import { clopperPearsonInterval, correctedShare } from '../../science/counting/index.ts';
import { trueShare } from '../../science/counting/joint/true-share.ts';
import { chanceFrom, drawBinomial } from '../../science/maths/index.ts';

/** Studies a cell: the standard error of a coverage of 95 % is then 1.1 %. */
const STUDIES = 400;

interface Cell {
  readonly drill: number;
  readonly tested: number;
  readonly share: number;
  readonly sensitivity: number;
  readonly falseRate: number;
}

const CELLS: readonly Cell[] = [20, 40, 60].flatMap((drill) =>
  [
    { tested: 20, share: 0.5, sensitivity: 0.9, falseRate: 0.1 },
    { tested: 60, share: 0.8, sensitivity: 0.9, falseRate: 0.15 },
    { tested: 60, share: 0.2, sensitivity: 0.85, falseRate: 0.1 },
    { tested: 120, share: 0.5, sensitivity: 0.8, falseRate: 0.2 },
  ].map((cell) => ({ drill, ...cell })),
);

/** Corrected by the drill's rates as if they were exact, with the plain binomial interval of the observed share around it. */
function naive(
  positive: number,
  tested: number,
  hits: number,
  wrong: number,
  drill: number,
): [number, number] {
  const middle = correctedShare(positive / tested, hits / drill, 1 - wrong / drill);
  const plain = clopperPearsonInterval(positive, tested, 0.95);
  const value = middle.ok ? middle.value.value : plain.value;
  return [value - (plain.value - plain.lower), value + (plain.upper - plain.value)];
}

describe('the interval of the true share under an imperfect test', () => {
  const rows = CELLS.map((cell, at) => {
    const chance = chanceFrom(4000 + at);
    let [ours, plain, said] = [0, 0, 0];
    for (let i = 0; i < STUDIES; i++) {
      const truly = drawBinomial(chance, cell.tested, cell.share);
      const positive =
        drawBinomial(chance, truly, cell.sensitivity) +
        drawBinomial(chance, cell.tested - truly, cell.falseRate);
      const hits = drawBinomial(chance, cell.drill, cell.sensitivity);
      const wrong = drawBinomial(chance, cell.drill, cell.falseRate);
      const found = trueShare(
        { positive, tested: cell.tested },
        { truePositive: [hits, cell.drill], falsePositive: [wrong, cell.drill] },
        0.95,
      );
      // a drill that tells nothing gives no interval: it is refused, not wrong
      if (!found.ok) continue;
      said++;
      if (found.value.share.lower <= cell.share && cell.share <= found.value.share.upper) ours++;
      const [lower, upper] = naive(positive, cell.tested, hits, wrong, cell.drill);
      if (lower <= cell.share && cell.share <= upper) plain++;
    }
    return { cell, ours: ours / said, plain: plain / said, said };
  });
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`.padStart(7);
  process.stdout.write(
    [
      '  true share under an imperfect test: how often the 95 % interval holds it',
      '  drill  tested  share  keeps true/other     ours   naive',
      ...rows.map(
        ({ cell, ours, plain }) =>
          `  ${String(cell.drill).padStart(5)}  ${String(cell.tested).padStart(6)}  ${cell.share.toFixed(2).padStart(5)}  ${cell.sensitivity.toFixed(2).padStart(10)}/${cell.falseRate.toFixed(2)}  ${percent(ours)} ${percent(plain)}`,
      ),
      '',
    ].join('\n'),
  );

  it.each(
    rows.map(
      (row) => [`drill ${row.cell.drill}, ${row.cell.tested} tested, share ${row.cell.share}`, row] as const,
    ),
  )('covers at least 94 in 100: %s', (_name, { ours, said }) => {
    expect(said).toBeGreaterThan(0.95 * STUDIES);
    expect(ours).toBeGreaterThanOrEqual(0.94);
  });

  it('the naive one fails: it takes the drill’s rates for exact and keeps the width of the observed share', () => {
    const worst = Math.min(...rows.map((row) => row.plain));
    expect(worst).toBeLessThan(0.85);
    expect(rows.filter((row) => row.plain < 0.94).length).toBeGreaterThanOrEqual(6);
  });
});
