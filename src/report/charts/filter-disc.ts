import { coordinate, element, escaped, frame, INK, link } from './markup.ts';

/**
 * Three zeros are three things: `looked` may hold none, `photographed` has not been looked at yet, `not-looked`
 * has no photograph, and `cannot-be-seen` is hidden (glare, matter on top, out of the optics' reach).
 */
export const SQUARE_STATES = ['looked', 'photographed', 'not-looked', 'cannot-be-seen'] as const;
export type SquareState = (typeof SQUARE_STATES)[number];

export interface DiscSquare {
  readonly column: number;
  readonly row: number;
  readonly state: SquareState;
  /** Particles kept in the square; null where nobody looked. */
  readonly kept: number | null;
  readonly href?: string;
}

export interface FilterDisc {
  readonly label: string;
  /** Effective diameter and printed pitch. */
  readonly diameterMm: number;
  readonly pitchMm: number;
  /** Squares by column and row, the disc's middle at the middle of the grid; squares not listed were not looked at. */
  readonly squares: readonly DiscSquare[];
  readonly columns: number;
  readonly rows: number;
  readonly size: number;
  readonly name: string;
}

/** The filter as a disc with its printed squares, each in one of the four states. */
export function filterDisc(given: FilterDisc): string {
  const { diameterMm, pitchMm, size, columns, rows } = given;
  if (!(diameterMm > 0))
    throw new RangeError(`diameter in mm: a number above 0 is needed, given ${diameterMm}`);
  if (!(pitchMm > 0)) throw new RangeError(`pitch in mm: a number above 0 is needed, given ${pitchMm}`);
  if (!(size >= 40)) throw new RangeError(`size: at least 40 px are needed, given ${size}`);
  const id = given.name.replaceAll(/[^A-Za-z0-9_-]/g, '-');
  const pad = Math.max(3, size * 0.015);
  const perMm = (size - 2 * pad) / diameterMm;
  const cell = pitchMm * perMm;
  const radius = (diameterMm / 2) * perMm;
  const left = size / 2 - (columns * cell) / 2;
  const top = size / 2 - (rows * cell) / 2;
  const known = new Map(given.squares.map((square) => [`${square.column},${square.row}`, square]));
  const cells: string[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = left + column * cell;
      const y = top + row * cell;
      if (!touches(x, y, cell, size / 2, radius)) continue;
      const square = known.get(`${column},${row}`);
      cells.push(
        square === undefined
          ? ''
          : oneSquare(square, { x, y, cell, id, small: cell < 15, label: given.label }),
      );
    }
  }
  const lines: string[] = [];
  for (let k = 0; k <= Math.max(columns, rows); k++) {
    if (k <= columns)
      lines.push(`M${coordinate(left + k * cell)} ${coordinate(top)}v${coordinate(rows * cell)}`);
    if (k <= rows)
      lines.push(`M${coordinate(left)} ${coordinate(top + k * cell)}h${coordinate(columns * cell)}`);
  }
  const circle = { cx: size / 2, cy: size / 2, r: radius };
  const children =
    element(
      'defs',
      {},
      element('clipPath', { id: `${id}-disc` }, element('circle', circle)) +
        hatch(`${id}-hidden`, INK.ink, 5, 1.4, 45) +
        hatch(`${id}-waiting`, INK.accent, 6, 1.6, 0),
    ) +
    element('circle', { ...circle, fill: INK.paper }) +
    element(
      'g',
      { 'clip-path': `url(#${id}-disc)` },
      cells.join('') +
        element('path', {
          d: lines.join(''),
          stroke: INK.soft,
          'stroke-width': 1,
          'stroke-opacity': 0.4,
          fill: 'none',
        }),
    ) +
    element('circle', { ...circle, fill: 'none', stroke: INK.soft, 'stroke-width': size > 120 ? 2 : 1.5 });
  return frame(
    { width: size, height: size },
    { title: `Filter ${given.label}`, description: inWords(given) },
    given.name,
    children,
    given.squares.some((square) => square.href !== undefined),
  );
}

function oneSquare(
  square: DiscSquare,
  at: { x: number; y: number; cell: number; id: string; small: boolean; label: string },
): string {
  const box = { x: at.x, y: at.y, width: at.cell, height: at.cell };
  const number =
    square.kept !== null && square.kept > 0 && !at.small
      ? element(
          'text',
          {
            x: at.x + at.cell / 2,
            y: at.y + at.cell / 2 + 5,
            'text-anchor': 'middle',
            'font-size': Math.min(15, at.cell * 0.55),
            fill: INK.ink,
            'aria-hidden': 'true',
          },
          String(square.kept),
        )
      : '';
  const drawn =
    square.state === 'looked'
      ? element('rect', { ...box, fill: INK.accentSoft, class: 'square looked' }) + number
      : square.state === 'photographed'
        ? element('rect', { ...box, fill: `url(#${at.id}-waiting)`, class: 'square photographed' })
        : square.state === 'cannot-be-seen'
          ? element('rect', { ...box, fill: `url(#${at.id}-hidden)`, class: 'square cannot-be-seen' })
          : element('rect', { ...box, fill: 'transparent', class: 'square not-looked' });
  const name = `Square ${square.column + 1}, ${square.row + 1}: ${stateInWords(square)}`;
  return square.href === undefined
    ? element('g', {}, element('title', {}, escaped(name)) + drawn)
    : link(square.href, `${at.label}, ${name}`, drawn);
}

/** Says of one square which of the zeros it is, or how many were kept. */
export function stateInWords(square: Pick<DiscSquare, 'state' | 'kept'>): string {
  if (square.state === 'looked') {
    return square.kept === null || square.kept === 0
      ? 'looked at, none seen'
      : `looked at, ${square.kept} kept`;
  }
  return {
    photographed: 'photographed, not looked at yet',
    'not-looked': 'not looked at',
    'cannot-be-seen': 'cannot be seen',
  }[square.state];
}

function hatch(id: string, ink: string, step: number, thick: number, turn: number): string {
  return element(
    'pattern',
    { id, width: step, height: step, patternUnits: 'userSpaceOnUse', patternTransform: `rotate(${turn})` },
    turn === 0
      ? element('circle', { cx: step / 2, cy: step / 2, r: thick / 1.6, fill: ink })
      : element('line', { x1: 0, y1: 0, x2: 0, y2: step, stroke: ink, 'stroke-width': thick }),
  );
}

const touches = (x: number, y: number, cell: number, middle: number, radius: number) => {
  const nearX = Math.min(Math.max(middle, x), x + cell);
  const nearY = Math.min(Math.max(middle, y), y + cell);
  return Math.hypot(nearX - middle, nearY - middle) < radius;
};

function inWords(given: FilterDisc): string {
  const many = (state: SquareState) => given.squares.filter((square) => square.state === state).length;
  const kept = given.squares.reduce((sum, square) => sum + (square.kept ?? 0), 0);
  const parts = [
    `${many('looked')} squares looked at`,
    `${many('photographed')} photographed and not looked at yet`,
    `${many('cannot-be-seen')} that cannot be seen`,
  ];
  const looked = many('looked') > 0;
  return `${parts.join(', ')}; the rest not looked at. ${looked ? `${kept} particles kept.` : 'No count: nobody looked yet.'}`;
}
