/**
 * The few things every chart needs to write SVG: escaping, elements, and a frame that names itself to a screen
 * reader. Charts are pure functions from figures to text; colours come from CSS variables with printed fallbacks,
 * so the same text serves the screen (light, dark, high contrast) and the printed report.
 */

/** Text made safe inside an element or a quoted attribute. */
export function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

export type Attributes = Readonly<Record<string, string | number | null | undefined>>;

/** One element; children are already markup. Attributes that are null or undefined are left out. */
export function element(name: string, attributes: Attributes, children = ''): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== null && value !== undefined)
    .map(
      ([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : escaped(String(value))}"`,
    )
    .join('');
  return children === '' ? `<${name}${written}/>` : `<${name}${written}>${children}</${name}>`;
}

/** Coordinates to a hundredth of a pixel: finer is invisible and makes two machines differ. */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`coordinate: a finite number is needed, given ${value}`);
  return String(Math.round(value * 100) / 100);
}

export interface Words {
  /** One line: what the picture is. */
  readonly title: string;
  /** What somebody who cannot see it should know, in sentences. */
  readonly description: string;
}

/**
 * The outer element. A picture that holds links is a group (its links stay reachable); any other is one image.
 * `name` makes the ids of title and description unique on the page.
 */
export function frame(
  size: { readonly width: number; readonly height: number },
  words: Words,
  name: string,
  children: string,
  holdsLinks = false,
): string {
  const id = name.replaceAll(/[^A-Za-z0-9_-]/g, '-');
  return element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${coordinate(size.width)} ${coordinate(size.height)}`,
      width: size.width,
      height: size.height,
      role: holdsLinks ? 'group' : 'img',
      'aria-labelledby': `${id}-title`,
      'aria-describedby': `${id}-desc`,
      class: 'chart',
      'font-family': 'inherit',
    },
    element('title', { id: `${id}-title` }, escaped(words.title)) +
      element('desc', { id: `${id}-desc` }, escaped(words.description)) +
      children,
  );
}

/** Colours of charts: a CSS variable of the page, or the printed value where there is none. */
export const INK = {
  ink: 'var(--ink, #1c2426)',
  soft: 'var(--ink-soft, #4d5a5c)',
  rule: 'var(--rule, #c9cfca)',
  paper: 'var(--paper, #ffffff)',
  accent: 'var(--accent, #0b5d6b)',
  accentSoft: 'var(--accent-soft, #cfe3e4)',
  band: 'var(--band, #e9dfc8)',
  bandEdge: 'var(--band-edge, #8a6d2b)',
  warn: 'var(--warn, #a1480b)',
} as const;

export interface TextPlace {
  readonly x: number;
  readonly y: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly fill?: string;
  readonly size?: number;
  readonly weight?: number;
}

/** A line of text, hidden from assistive technology: title and description speak for the whole picture. */
export function text(words: string, place: TextPlace): string {
  return element(
    'text',
    {
      x: place.x,
      y: place.y,
      'text-anchor': place.anchor ?? 'start',
      'font-size': place.size ?? 14,
      'font-weight': place.weight ?? null,
      fill: place.fill ?? INK.ink,
      'aria-hidden': 'true',
    },
    escaped(words),
  );
}

/** A link around part of a picture, with its own name. */
export function link(href: string, name: string, children: string): string {
  return element('a', { href, 'aria-label': name }, element('title', {}, escaped(name)) + children);
}
