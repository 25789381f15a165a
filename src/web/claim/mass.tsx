import type { ClaimDetailsJson } from '../../api/index.ts';
import { massWords, percent } from '../../report/index.ts';
import { Fact, Section } from '../look/parts.tsx';
import { WhereFrom } from './where-from.tsx';

const between = (of: { value: number; lower: number; upper: number }): string =>
  `${massWords(of.value)} (${massWords(of.lower)} to ${massWords(of.upper)})`;

/** Mass of the counted pieces from their outlines, with its wide interval, or why there is none. */
export function Mass({
  details: { study, mass, mass_refusal, mass_balance, mass_balance_refusal, size_from_um },
}: {
  details: ClaimDetailsJson;
}) {
  return (
    <Section title="Mass, roughly">
      {mass ? (
        <dl className="facts">
          <Fact
            name="All pieces counted with the product"
            value={massWords(mass.micrograms.value)}
            note={`${massWords(mass.micrograms.lower)} to ${massWords(mass.micrograms.upper)}, background not taken off`}
          />
          <Fact
            name="Held by the five largest"
            value={percent(mass.top_five)}
            note={`of ${mass.pieces} pieces from ${Math.round(size_from_um)} µm`}
          />
        </dl>
      ) : (
        <p>{mass_refusal}</p>
      )}
      <h3>Against what the product lost</h3>
      {mass_balance ? (
        <>
          <p className={mass_balance.verdict === 'more than was lost' ? 'warned' : undefined}>
            {mass_balance.message}
          </p>
          <dl className="plain-facts">
            <div>
              <dt>Shed in {mass_balance.runs.join(', ')}, by the claim</dt>
              <dd>{between(mass_balance.shed_ug)}</dd>
            </div>
            <div>
              <dt>Lost on the balance</dt>
              <dd>{between(mass_balance.loss_ug)}</dd>
            </div>
            {mass_balance.not_weighed.length > 0 ? (
              <div>
                <dt>Not weighed</dt>
                <dd>{mass_balance.not_weighed.join(', ')}</dd>
              </div>
            ) : null}
          </dl>
        </>
      ) : (
        <p>{mass_balance_refusal}</p>
      )}
      <WhereFrom
        study={study}
        formula={`Volume of a fragment = 0.34 × shortest Feret × area; a fibre is a cylinder, a bead a sphere; × density ${mass ? `${mass.density_from} to ${mass.density_to}` : '0.9 to 1.4'} g/mL. Each volume is uncertain by a factor of 2.5. Shed in the weighed runs: net per gram × their grams × mean mass of a piece, relative widths added in squares; lost: before − after, ± two standard uncertainties.`}
        source="Hagelskjær et al. 2025, Microplastics 4(4) (fragments); density range: common practice, no source."
        deceives="pieces are flat and lie flat, or a few large ones hold most of the mass; on the balance, when the product takes up water or dries between the weighings."
      />
    </Section>
  );
}
