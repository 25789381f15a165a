import { figure } from './figures.ts';
import { element, frame, INK, text } from './markup.ts';

/** The part of `retentate/settle/1` that is drawn. */
export interface DrawnSettling {
  readonly materials: readonly {
    readonly code: string;
    readonly sizes: readonly {
      readonly size_um: number;
      readonly sediment: readonly [number, number];
      readonly floating: readonly [number, number];
      readonly verdict: 'sediment' | 'floats' | 'partly-down' | 'partly-up' | 'between' | 'undecided';
    }[];
  }[];
}

const SIGN = {
  sediment: '▼',
  'partly-down': '▽',
  between: '·',
  'partly-up': '△',
  floats: '▲',
  undecided: '?',
} as const;
export const SETTLING_WORDS = {
  sediment: 'in the sediment',
  'partly-down': 'partly in the sediment',
  between: 'still in between',
  'partly-up': 'partly afloat',
  floats: 'floats',
  undecided: 'undecided',
} as const;

/** Materials down, sizes across; a sign and a shade for where the pieces are. Signs carry the meaning, shades only help. */
export function settlingMap(given: {
  readonly settling: DrawnSettling;
  readonly width: number;
  readonly name: string;
}): string {
  const { materials } = given.settling;
  const { width } = given;
  if (!(width >= 200)) throw new RangeError(`width: at least 200 px are needed, given ${width}`);
  const sizes = materials[0]?.sizes.map((cell) => cell.size_um) ?? [];
  if (sizes.length === 0)
    throw new RangeError('map: at least one material and one size are needed, given none');
  const left = 82;
  const cell = Math.min(72, (width - left - 4) / sizes.length);
  const row = 27;
  const head = 26;
  const parts: string[] = [];
  for (const [i, size] of sizes.entries())
    parts.push(
      text(figure(size), {
        x: left + (i + 0.5) * cell,
        y: 17,
        anchor: 'middle',
        size: cell < 40 ? 12 : 14,
        fill: INK.soft,
      }),
    );
  parts.push(text('µm', { x: left - 12, y: 17, anchor: 'end', size: 13, fill: INK.soft }));
  for (const [j, material] of materials.entries()) {
    const y = head + j * row;
    parts.push(text(material.code, { x: left - 12, y: y + row / 2 + 5, anchor: 'end', size: 14 }));
    for (const [i, one] of material.sizes.entries()) {
      const x = left + i * cell;
      parts.push(
        element(
          'g',
          { class: one.verdict },
          element('title', {}, titleOf(material.code, one)) +
            element('rect', {
              x: x + 1,
              y: y + 1,
              width: cell - 2,
              height: row - 2,
              fill: shade(one.verdict),
              'fill-opacity': one.verdict.startsWith('partly') ? 0.5 : 1,
            }) +
            text(SIGN[one.verdict], { x: x + cell / 2, y: y + row / 2 + 5, anchor: 'middle', size: 15 }),
        ),
      );
    }
  }
  return frame(
    { width: Math.min(width, left + cell * sizes.length + 4), height: head + materials.length * row + 4 },
    { title: 'Where pieces are after that time, by material and size', description: inWords(given.settling) },
    given.name,
    parts.join(''),
  );
}

const shade = (verdict: keyof typeof SIGN): string => {
  if (verdict === 'sediment' || verdict === 'partly-down') return INK.band;
  if (verdict === 'floats' || verdict === 'partly-up') return INK.accentSoft;
  return INK.paper;
};

const titleOf = (code: string, one: DrawnSettling['materials'][number]['sizes'][number]): string => {
  const share = one.verdict.endsWith('up') || one.verdict === 'floats' ? one.floating : one.sediment;
  const range = `${Math.round(100 * share[0])} to ${Math.round(100 * share[1])} % of them have arrived`;
  return `${code}, ${figure(one.size_um)} µm: ${SETTLING_WORDS[one.verdict]}${one.verdict === 'undecided' ? '' : `; ${range}`}`;
};

function inWords({ materials }: DrawnSettling): string {
  return materials
    .map((material) => {
      const runs: string[] = [];
      for (const one of material.sizes) runs.push(`${figure(one.size_um)} µm ${SETTLING_WORDS[one.verdict]}`);
      return `${material.code}: ${runs.join(', ')}.`;
    })
    .join(' ');
}
