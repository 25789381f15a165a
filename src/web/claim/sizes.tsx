import { useCallback, useState } from 'react';
import type { ClaimDetailsJson, SizesJson } from '../../api/index.ts';
import { bandName, type PartNet, partNets, percent, unseenWords } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section } from '../look/parts.tsx';
import { WhereFrom } from './where-from.tsx';

type Scheme = SizesJson[number];

const bandRow = (band: Scheme['bands'][number]): PartNet => ({
  label: bandName(band.from_um, band.to_um, band.partly_out_of_sight || band.partly_not_asked),
  counts:
    band.specimens === null || band.controls === null
      ? null
      : { specimens: band.specimens, controls: band.controls },
  because: unseenWords(band.seen),
  value: band.net_per_gram?.value ?? null,
  lower: band.net_per_gram?.lower ?? null,
  upper: band.net_per_gram?.upper ?? null,
  total: false,
});

/** The same pieces in the size bands of two published schemes. */
export function Sizes({ details }: { details: ClaimDetailsJson }) {
  const { study, sizes, confidence, looked } = details;
  const [chosen, choose] = useState<Scheme['scheme']>('eu-2024-1441');
  const scheme = sizes?.find((one) => one.scheme === chosen) ?? null;
  const draw = useCallback(
    (width: number) =>
      partNets({
        title: `Net by size, bands of ${scheme!.name}`,
        rows: scheme!.bands.map(bandRow),
        unit: 'particles per gram, net of background',
        confidence,
        width,
        name: 'sizes',
      }),
    [scheme, confidence],
  );
  if (!sizes || !scheme) {
    return (
      <Section title="By size">
        <p>{details.sizes_refusal}</p>
      </Section>
    );
  }
  const outside = scheme.below + scheme.above;
  const found = scheme.bands.filter((band) => band.chance_of_finding !== null);
  return (
    <Section
      title="By size"
      lead="Longest Feret diameter; of fibres the length. The same pieces sorted by either scheme; hatched bands were not counted, because pieces there could not have been seen or the question leaves them out: neither is none."
    >
      <fieldset className="choose-specimen">
        <legend className="unseen">Size bands of</legend>
        {sizes.map((one) => (
          <button
            key={one.scheme}
            type="button"
            className={one.scheme === chosen ? 'button primary' : 'button'}
            aria-pressed={one.scheme === chosen}
            onClick={() => choose(one.scheme)}
          >
            {one.name}
          </button>
        ))}
      </fieldset>
      <figure className="picture">
        <Drawing draw={draw} />
      </figure>
      {outside > 0 ? (
        <p className="fine">
          {outside} {outside === 1 ? 'piece lies' : 'pieces lie'} outside this scheme.
        </p>
      ) : null}
      <WhereFrom
        study={study}
        formula="Net of a band = counted with the product − counted on controls × (runs looked at ÷ controls looked at), over grams looked at × recovery. Intervals hold runs to scatter no more than Poisson."
        runs={looked.filter((run) => run.side === 'specimens' || run.side === 'controls')}
        source={`${scheme.source}.`}
        method="counting-model"
        deceives="recovery of small pieces differs from that of the known pieces put in."
      >
        {found.length > 0 ? (
          <p>
            Chance that a piece is found:{' '}
            {found
              .map(
                (band) => `${bandName(band.from_um, band.to_um, false)} ${percent(band.chance_of_finding!)}`,
              )
              .join('; ')}
            .
          </p>
        ) : (
          <p>What share of each band is found was not determined with known pieces for these optics.</p>
        )}
      </WhereFrom>
    </Section>
  );
}
