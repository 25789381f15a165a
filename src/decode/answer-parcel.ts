/**
 * A finding on its way from thread to thread. Half a million points of outlines as small arrays would be written out and
 * read in one by one, in twice their memory; as one block of numbers they are handed over.
 */
import type { Finding, Particle, Point } from '../science/imaging/index.ts';
import type { Searched } from './search-photo.ts';

type Packed = Omit<Particle, 'outlinePx'> & { readonly outlinePx: number };

/** The finding with the number of points in place of each outline; `points` holds x and y by turns. */
export interface Parcel {
  readonly searched: Omit<Searched, 'finding'> & {
    readonly finding: Omit<Finding, 'particles'> & { readonly particles: readonly Packed[] };
  };
  readonly points: Float64Array<ArrayBuffer>;
}

export function packed({ finding, ...rest }: Searched): Parcel {
  const { particles } = finding;
  const points = new Float64Array(2 * particles.reduce((n, p) => n + p.outlinePx.length, 0));
  let at = 0;
  for (const { outlinePx } of particles) {
    for (const point of outlinePx) {
      points[at++] = point[0];
      points[at++] = point[1];
    }
  }
  const counted = particles.map((p) => ({ ...p, outlinePx: p.outlinePx.length }));
  return { searched: { ...rest, finding: { ...finding, particles: counted } }, points };
}

export function unpacked({ searched, points }: Parcel): Searched {
  let at = 0;
  const particles = searched.finding.particles.map((p): Particle => {
    const outlinePx: Point[] = [];
    for (let i = 0; i < p.outlinePx; i++, at += 2) outlinePx.push([points[at]!, points[at + 1]!]);
    return { ...p, outlinePx };
  });
  return { ...searched, finding: { ...searched.finding, particles } };
}
