import { axisTicks, figure } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

export interface DensityScale {
  readonly materials: readonly {
    readonly code: string;
    readonly density_g_ml: readonly [number, number];
    readonly verdict: 'floats' | 'sinks' | 'undecided';
  }[];
  readonly liquidGMl: number;
  readonly toleranceGMl: number;
  readonly width: number;
  readonly name: string;
}

/** Printed densities as bars beside the liquid's: what lies left of it floats, right of it sinks, across it is undecided. */
export function densityScale(given: DensityScale): string {
  const { materials, liquidGMl, toleranceGMl, width } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  if (materials.length === 0) throw new RangeError('materials: at least one is needed, given none');
  const left = 82;
  const right = width - (width < 520 ? 12 : 96);
  const ticks = axisTicks(0.85, Math.max(1.7, liquidGMl + 0.1), width < 520 ? 5 : 10);
  const [from, to] = [ticks[0]!, ticks[ticks.length - 1]!];
  const x = (density: number) => left + ((density - from) / (to - from)) * (right - left);
  const row = 24;
  const head = 30;
  const floor = head + materials.length * row + 4;
  const parts = [
    element('rect', {
      x: x(liquidGMl - toleranceGMl),
      y: head - 4,
      width: Math.max(2, x(liquidGMl + toleranceGMl) - x(liquidGMl - toleranceGMl)),
      height: floor - head + 4,
      fill: INK.accent,
      'fill-opacity': 0.35,
    }),
    text(`this liquid: ${liquidGMl.toFixed(3)}`, {
      x: x(liquidGMl),
      y: 17,
      anchor: liquidGMl > (from + to) / 2 ? 'end' : 'start',
      size: 14,
      weight: 600,
      fill: INK.accent,
    }),
  ];
  for (const [i, one] of materials.entries()) {
    const y = head + i * row;
    const [low, high] = one.density_g_ml;
    const ink = one.verdict === 'undecided' ? INK.warn : one.verdict === 'floats' ? INK.accent : INK.bandEdge;
    parts.push(
      text(one.code, { x: left - 12, y: y + row / 2 + 5, anchor: 'end', size: 14 }),
      element('line', {
        x1: left,
        x2: right,
        y1: y + row / 2,
        y2: y + row / 2,
        stroke: INK.rule,
        'stroke-width': 0.75,
      }),
      low > to
        ? text(`${figure(low)} →`, { x: right, y: y + row / 2 + 5, anchor: 'end', size: 13, fill: ink })
        : element('rect', {
            x: x(low) - 3,
            y: y + row / 2 - 5,
            width: Math.max(6, x(Math.min(high, to)) - x(low) + 6),
            height: 10,
            rx: 5,
            fill: one.verdict === 'undecided' ? INK.paper : ink,
            stroke: ink,
            'stroke-width': 2,
            class: one.verdict,
          }),
    );
    if (width >= 520)
      parts.push(text(one.verdict, { x: right + 12, y: y + row / 2 + 5, size: 14, fill: ink }));
  }
  for (const tick of ticks)
    parts.push(
      element('line', { x1: x(tick), x2: x(tick), y1: floor, y2: floor + 5, stroke: INK.soft }),
      text(figure(tick), { x: x(tick), y: floor + 20, anchor: 'middle', size: 14, fill: INK.soft }),
    );
  parts.push(
    element('line', { x1: left, x2: right, y1: floor, y2: floor, stroke: INK.soft }),
    text('g/mL', { x: right, y: floor + 38, anchor: 'end', size: 14, fill: INK.soft }),
  );
  return frame(
    { width, height: floor + 44 },
    { title: 'Densities of materials beside the liquid', description: inWords(given) },
    given.name,
    parts.join(''),
  );
}

function inWords({ materials, liquidGMl }: DensityScale): string {
  const by = (verdict: string) =>
    materials
      .filter((one) => one.verdict === verdict)
      .map((one) => one.code)
      .join(', ') || 'none';
  return `In a liquid of ${liquidGMl.toFixed(3)} g/mL. Floats: ${by('floats')}. Sinks: ${by('sinks')}. Undecided: ${by('undecided')}.`;
}
