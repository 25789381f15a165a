import { useCallback, useState } from 'react';
import type { CategoryJson, ClaimDetailsJson } from '../../api/index.ts';
import { figure, kindName, type PartNet, partNets } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section } from '../look/parts.tsx';
import { PieceLinks } from './piece-links.tsx';
import { WhereFrom } from './where-from.tsx';

const lower = (words: string) => words.charAt(0).toLowerCase() + words.slice(1);

const rowOf = (row: CategoryJson, label: string, total: boolean): PartNet => ({
  label,
  counts: { specimens: row.specimens, controls: row.controls },
  because: null,
  value: row.net_per_gram.value,
  lower: row.net_per_gram.lower,
  upper: row.net_per_gram.upper,
  total,
});

/** Net of every kind of piece, without cutting off what falls below nought; each opens to its pieces. */
export function Categories({ details }: { details: ClaimDetailsJson }) {
  const { study, categories, confidence, looked } = details;
  const draw = useCallback(
    (width: number) =>
      partNets({
        title: 'Net by kind of piece',
        rows: [
          ...categories!.rows.map((row) => rowOf(row, kindName(row), false)),
          rowOf(categories!.total, 'All together', true),
        ],
        unit: 'particles per gram, net of background',
        confidence,
        width,
        name: 'categories',
      }),
    [categories, confidence],
  );
  if (!categories) {
    return (
      <Section title="By kind of piece">
        <p>{details.categories_refusal}</p>
      </Section>
    );
  }
  const negative = categories.rows.filter((row) => row.negative);
  return (
    <Section
      title="By kind of piece"
      lead={
        negative.length > 0
          ? `Of ${negative.map((row) => lower(kindName(row))).join('; ')} the controls hold more than the product: such a net stays below nought, or the sum would be too high.`
          : 'Shape, colour and size, the background of the same kind taken off. The parts add up to the whole.'
      }
    >
      <figure className="picture">
        <Drawing draw={draw} />
      </figure>
      <p className="fine">
        “All together” is the plain sum of these counts, with an interval for runs that scatter no more than
        Poisson. The claim’s own number comes from the joint model, which lets runs and controls scatter more
        and takes in recovery with its doubt: it may lie a little elsewhere, and its interval is wider. The
        claim rests on that one.
      </p>
      <div className="opens">
        {categories.rows.map((row) => (
          <Pieces key={JSON.stringify(row.path)} study={study} row={row} />
        ))}
      </div>
      <WhereFrom
        study={study}
        formula="Net of a kind = counted with the product − counted on controls × (runs looked at ÷ controls looked at), over grams looked at × recovery. Kinds with fewer than 5 pieces are put together with their nearest kin. Intervals hold runs to scatter no more than Poisson: the claim’s own, which does not, is wider."
        runs={looked.filter((run) => run.side === 'specimens' || run.side === 'controls')}
        source={`Sizes by ${categories.scheme}: ${categories.source}. Intervals: Fay, Proschan & Brittain 2015, Biometrics 71:146.`}
        method="counting-model"
        deceives="a kind is picked for being high: with many kinds some are. Read the whole."
      />
    </Section>
  );
}

function Pieces({ study, row }: { study: string; row: CategoryJson }) {
  const [open, setOpen] = useState(false);
  return (
    <details className="open-row" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <span>{kindName(row)}</span>
        <span className="fine">
          {row.specimens} with the product, {figure(row.expected)} expected
        </span>
      </summary>
      {open ? (
        <div className="two">
          <PieceLinks study={study} title="With the product" pieces={row.on_specimens} of={row.specimens} />
          <PieceLinks study={study} title="On controls" pieces={row.on_controls} of={row.controls} />
        </div>
      ) : null}
    </details>
  );
}
