import type { Finding, FindWish, Particle } from '../../science/imaging/finding.ts';
import type { MarkId } from './mark.ts';
import type { PhotoId } from './photo.ts';
import type { Id, Instant } from './rules.ts';

export type FindingId = Id<'finding'>;
export type ParticleId = Id<'particle'>;

/** What one method version found on one photo for one wish. Kept for ever; the newest is the one that counts. */
export interface FindingRecord extends Omit<Finding, 'particles'> {
  readonly id: FindingId;
  readonly photo: PhotoId;
  readonly wish: FindWish;
  readonly at: Instant;
}

/** Where a particle stands after all marks: replaced ones gave way to a split, merge or redraw. */
export const PARTICLE_STANDINGS = ['unmarked', 'kept', 'dropped', 'replaced'] as const;
export type ParticleStanding = (typeof PARTICLE_STANDINGS)[number];

/** What can be asked of many particles at once; outlines are most of the bytes, and nobody needs those of thousands. */
export type Measure = Exclude<keyof ParticleRecord, 'outlinePx'>;
/** A particle with some of its measures. */
export type Measured<M extends Measure> = Pick<ParticleRecord, M>;

/** The measures as found, and what the marks have made of them. */
export interface ParticleRecord extends Particle {
  readonly id: ParticleId;
  readonly finding: FindingId;
  readonly photo: PhotoId;
  /** 1, 2, 3 … on its photo, in the order found or drawn. */
  readonly number: number;
  /** The mark that drew it (split, merge, redraw); null for one that the program found. */
  readonly drawnBy: MarkId | null;
  readonly standing: ParticleStanding;
  /** The particle that counts for it, where an overlapping photograph of the filter shows the same piece; null: it counts itself. */
  readonly countsOn: ParticleId | null;
  /** Shape and colour after marks. */
  readonly shapeNow: Particle['shape'];
  readonly colourNow: Particle['colour'];
}
