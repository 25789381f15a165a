import type { ParticleRecord } from '../records/found.ts';

/** Fewer pieces than this in a stratum: it is drawn together with its side's other small ones. Project choice. */
const SMALL = 5;

type Looks = Pick<ParticleRecord, 'shapeNow' | 'colourNow' | 'feretMaxUm'>;

/** Shape, size and colour as coarse as errors of tests differ: fibre or not, small or large, clear or coloured. */
export function looksOf({ shapeNow, colourNow, feretMaxUm }: Looks): string {
  const shape = shapeNow === 'fibre' ? 'fibres' : 'pieces';
  const size = feretMaxUm === null ? 'size not known' : feretMaxUm < 300 ? 'below 300 µm' : '300 µm and more';
  const colour = colourNow === 'clear' || colourNow === 'white' ? 'clear or white' : 'coloured';
  return `${shape}, ${size}, ${colour}`;
}

export type Side = 'specimens' | 'controls';
export interface Sided extends Looks {
  readonly id: ParticleRecord['id'];
  readonly side: Side;
}

export interface SideStratum {
  readonly name: string;
  readonly side: Side;
  readonly pieces: readonly ParticleRecord['id'][];
}

/** Strata by side and looks; small ones are thrown together within their side. */
export function strataByLooks(particles: readonly Sided[]): readonly SideStratum[] {
  const strata: SideStratum[] = [];
  for (const side of ['specimens', 'controls'] as const) {
    const groups = new Map<string, ParticleRecord['id'][]>();
    for (const particle of particles.filter((one) => one.side === side)) {
      const looks = looksOf(particle);
      const group = groups.get(looks);
      if (group) group.push(particle.id);
      else groups.set(looks, [particle.id]);
    }
    const rest: ParticleRecord['id'][] = [];
    for (const [looks, pieces] of [...groups].sort(([a], [b]) => (a < b ? -1 : 1))) {
      if (pieces.length < SMALL && groups.size > 1) rest.push(...pieces);
      else strata.push({ name: looks, side, pieces });
    }
    if (rest.length > 0) strata.push({ name: 'others', side, pieces: rest });
  }
  return strata;
}
