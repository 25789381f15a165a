import type { FindWish } from '../../science/imaging/finding.ts';
import type { FilterId, OpticsId } from './filter.ts';
import type { PersonId } from './laboratory.ts';
import {
  anId,
  anInstant,
  type Id,
  type Instant,
  maker,
  number,
  oneOf,
  orNull,
  type Rule,
  text,
} from './rules.ts';

export type PhotoId = Id<'photo'>;
/** SHA-256 of the original's bytes, 64 lower-case hexadecimal digits. */
export type Sha256 = string & { readonly sha256: true };

export const PHOTO_FORMATS = ['jpeg', 'png', 'tiff', 'webp'] as const;
export type PhotoFormat = (typeof PHOTO_FORMATS)[number];

/** An original picture of part of a filter; never changed. Width and height are of the upright picture. */
export interface Photo {
  readonly id: PhotoId;
  readonly filter: FilterId;
  readonly sha256: Sha256;
  readonly name: string;
  readonly bytes: number;
  readonly format: PhotoFormat;
  readonly widthPx: number;
  readonly heightPx: number;
  /** EXIF orientation, 1 to 8. */
  readonly orientation: number;
  readonly optics: OpticsId | null;
  readonly at: Instant;
  readonly by: PersonId;
}

const SHA256 = /^[0-9a-f]{64}$/;
export const isSha256 = (text: string): text is Sha256 => SHA256.test(text);
const aSha256: Rule = (value, what) =>
  typeof value === 'string' && SHA256.test(value)
    ? null
    : { why: 'not-a-hash', message: `${what}: 64 hexadecimal digits are needed; given “${String(value)}”.` };

export const makePhoto = maker<Photo>('photo', {
  id: anId,
  filter: anId,
  sha256: aSha256,
  name: text(1, 255),
  bytes: number({ from: 1, whole: true }),
  format: oneOf(PHOTO_FORMATS),
  widthPx: number({ from: 1, whole: true }),
  heightPx: number({ from: 1, whole: true }),
  orientation: number({ from: 1, to: 8, whole: true }),
  optics: orNull(anId),
  at: anInstant,
  by: anId,
});

/** A name from elsewhere, made fit to show and store: no folders, no control characters, never empty. */
export function photoName(given: string): string {
  const last = given.split(/[/\\]/).at(-1) ?? '';
  const plain = last
    .replace(/\p{Cc}/gu, ' ')
    .trim()
    .slice(0, 255);
  return plain === '' || plain === '.' || plain === '..' ? 'photograph' : plain;
}

/** The wish as one text, the same for equal wishes: half of what makes finding idempotent. */
export function wishKey(wish: FindWish): string {
  const { scale } = wish;
  const how =
    scale.from === 'printed-grid'
      ? `printed-grid ${scale.pitch}`
      : scale.from === 'given'
        ? `given ${scale.scale} ${scale.relativeUncertainty ?? '-'}`
        : scale.from === 'two-points'
          ? `two-points ${scale.a.join(',')} ${scale.b.join(',')} ${scale.apart}`
          : 'nothing';
  return `${how} | smallest ${wish.smallest ?? '-'} | false ${wish.falseFindsPerBlank}`;
}
