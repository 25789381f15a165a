import { figure } from './figures.ts';
import { element, escaped, frame, INK, text } from './markup.ts';

/** Where the liquid of a run went; the volumes of a `Balance` as they are. */
export interface RunBalance {
  readonly inMl: number | null;
  readonly outMl: number;
  readonly missingMl: number | null;
  readonly agrees: boolean;
  readonly sentence: string;
  readonly parts: readonly { readonly kind: string; readonly fate: string; readonly volumeMl: number }[];
}

export interface RunBalancePicture {
  readonly balance: RunBalance;
  readonly width: number;
  readonly name: string;
}

const BAR = 44;
const TOP = 22;

/** Looked at, kept, thrown away or lost, and nobody knows: four fills that differ without colour. */
const FILL: Readonly<Record<string, { fill: string; hatch: boolean }>> = {
  examined: { fill: INK.accentSoft, hatch: false },
  kept: { fill: INK.band, hatch: false },
  discarded: { fill: 'none', hatch: true },
  lost: { fill: 'none', hatch: true },
};

/**
 * One bar as long as what went in, parted into where it went; what nothing accounts for is a dashed gap with its
 * millilitres. Rinses come on top of the liquid and are not drawn.
 */
export function runBalance({ balance, width, name }: RunBalancePicture): string {
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  const id = name.replaceAll(/[^A-Za-z0-9_-]/g, '-');
  const parts = balance.parts.filter((part) => part.kind !== 'rinse' && part.volumeMl > 0);
  const whole = Math.max(balance.inMl ?? 0, balance.outMl);
  const out: string[] = [
    element(
      'defs',
      {},
      element(
        'pattern',
        {
          id: `${id}-gone`,
          width: 6,
          height: 6,
          patternUnits: 'userSpaceOnUse',
          patternTransform: 'rotate(45)',
        },
        element('line', { x1: 0, y1: 0, x2: 0, y2: 6, stroke: INK.soft, 'stroke-width': 2 }),
      ),
    ),
  ];
  const left = 2;
  const scale = whole > 0 ? (width - 4) / whole : 0;
  let x = left;
  let row = 0;
  const label = (from: number, wide: number, words: string) => {
    // Names of narrow parts go down a line in turn, so that they do not lie on each other.
    const y = TOP + BAR + 18 + (row % 3) * 19;
    row += 1;
    const end = from + wide / 2 > width * 0.6;
    out.push(
      element('line', {
        x1: from + wide / 2,
        y1: TOP + BAR,
        x2: from + wide / 2,
        y2: y - 12,
        stroke: INK.soft,
      }),
      text(words, {
        x: end ? from + wide / 2 + 4 : from + wide / 2 - 4,
        y,
        anchor: end ? 'end' : 'start',
        size: 14,
      }),
    );
  };
  out.push(
    text(balance.inMl === null ? 'what went in is not recorded' : `${figure(balance.inMl)} mL went in`, {
      x: left,
      y: 14,
    }),
  );
  for (const part of parts) {
    const wide = part.volumeMl * scale;
    const look = FILL[part.fate] ?? FILL.lost!;
    out.push(
      element(
        'rect',
        {
          x,
          y: TOP,
          width: Math.max(1, wide),
          height: BAR,
          fill: look.hatch ? `url(#${id}-gone)` : look.fill,
          stroke: INK.ink,
          'stroke-width': 1.5,
        },
        element('title', {}, escaped(`${figure(part.volumeMl)} mL ${part.kind}, ${part.fate}`)),
      ),
    );
    label(x, wide, `${figure(part.volumeMl)} mL ${part.kind}, ${part.fate}`);
    x += wide;
  }
  if (balance.missingMl !== null && balance.missingMl > 0 && !balance.agrees) {
    const wide = balance.missingMl * scale;
    out.push(
      element('rect', {
        x: x + 1,
        y: TOP,
        width: Math.max(2, wide - 2),
        height: BAR,
        fill: 'none',
        stroke: INK.warn,
        'stroke-width': 2,
        'stroke-dasharray': '6 4',
      }),
    );
    label(
      x,
      wide,
      parts.length === 0
        ? 'where it went is not recorded yet'
        : `${figure(Number(balance.missingMl.toPrecision(3)))} mL nobody accounts for`,
    );
  }
  return frame(
    { width, height: TOP + BAR + 8 + 19 * Math.min(3, Math.max(1, row)) },
    { title: 'Where the liquid went', description: balance.sentence },
    name,
    out.join(''),
  );
}
