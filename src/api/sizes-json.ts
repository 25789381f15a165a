import type { BandedNet } from '../science/counting/index.ts';
import type { SizesJson } from './claim.ts';

/** Size bands as they travel; a band that could not have been seen has no count, which is not a count of none. */
export const sizesJson = (schemes: readonly BandedNet[]): SizesJson =>
  schemes.map(({ scheme, bands, below, above }) => ({
    scheme: scheme.id,
    name: scheme.name,
    source: scheme.source,
    below,
    above,
    bands: bands.map((band) => ({
      from_um: band.fromUm,
      to_um: band.toUm,
      seen: band.seen.kind,
      because: band.seen.kind === 'counted' ? null : band.seen.because,
      specimens: band.seen.kind === 'counted' ? band.specimens : null,
      controls: band.seen.kind === 'counted' ? band.controls : null,
      net: band.net,
      net_per_gram: band.perGram && {
        value: band.perGram.value,
        lower: band.perGram.lower,
        upper: band.perGram.upper,
        confidence: band.perGram.confidence,
      },
      partly_out_of_sight: band.partlyOutOfSight,
      partly_not_asked: band.partlyNotAsked,
      chance_of_finding: band.chanceOfFinding,
    })),
  }));
