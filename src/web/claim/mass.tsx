import type { ClaimDetailsJson } from '../../api/index.ts';
import { figure, percent } from '../../report/index.ts';
import { Fact, Section } from '../look/parts.tsx';
import { WhereFrom } from './where-from.tsx';

/** Mass of the counted pieces from their outlines, with its wide interval, or why there is none. */
export function Mass({
  details: { study, mass, mass_refusal, size_from_um },
}: {
  details: ClaimDetailsJson;
}) {
  const weight = (ug: number) => (ug >= 1000 ? `${figure(ug / 1000)} mg` : `${figure(ug)} µg`);
  return (
    <Section title="Mass, roughly">
      {mass ? (
        <dl className="facts">
          <Fact
            name="All pieces counted with the product"
            value={weight(mass.micrograms.value)}
            note={`${weight(mass.micrograms.lower)} to ${weight(mass.micrograms.upper)}, background not taken off`}
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
      <WhereFrom
        study={study}
        formula={`Volume of a fragment = 0.34 × shortest Feret × area; a fibre is a cylinder, a bead a sphere; × density ${mass ? `${mass.density_from} to ${mass.density_to}` : '0.9 to 1.4'} g/mL. Each volume is uncertain by a factor of 2.5.`}
        source="Hagelskjær et al. 2025, Microplastics 4(4) (fragments); density range: common practice, no source."
        deceives="pieces are flat and lie flat, or a few large ones hold most of the mass."
      />
    </Section>
  );
}
