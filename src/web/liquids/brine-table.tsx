import { useMemo, useState } from 'react';
import { densityScale, figure } from '../../report/index.ts';
import { BRINES, densestKgM3, MATERIALS, USUAL_SHAPES } from '../../science/fluids/index.ts';
import { type BrineReport, brineReport } from '../../study/index.ts';
import { type Outcome, refused } from '../../units/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Choice, NumberField, typedNumber } from '../look/fields.tsx';
import { Fact } from '../look/parts.tsx';
import { MethodLink } from '../methods/method-link.tsx';
import { Cautions, duration, Trouble, Working } from './working.tsx';

const SALTS = [...BRINES.values()].map(
  (table) => [table.formula, `${table.salt} (to ${(densestKgM3(table) / 1000).toFixed(2)})`] as const,
);

/** A salt and a density in; recipe, scale of what floats and times out. */
export function BrineTable() {
  const [salt, setSalt] = useState('NaCl');
  const [density, setDensity] = useState('1.18');
  const [volume, setVolume] = useState('500');
  const [size, setSize] = useState('100');
  const [height, setHeight] = useState('100');
  const outcome = useMemo(
    () => recipe({ salt, density, volume, size, height }),
    [salt, density, volume, size, height],
  );
  return (
    <Working
      inputs={
        <>
          <Choice label="Salt" value={salt} set={setSalt} options={SALTS} />
          <NumberField label="Density at 20 °C" unit="g/mL" value={density} set={setDensity} />
          <NumberField label="Volume" unit="mL" value={volume} set={setVolume} />
          <NumberField label="Smallest piece that should arrive" unit="µm" value={size} set={setSize} />
          <NumberField label="Height of the brine" unit="mm" value={height} set={setHeight} />
        </>
      }
    >
      {outcome.ok ? <Recipe made={outcome.value} /> : <Trouble>{outcome.refusal.message}</Trouble>}
    </Working>
  );
}

function recipe(given: Readonly<Record<string, string>>): Outcome<BrineReport> {
  const values: Record<string, number> = {};
  for (const name of ['density', 'volume', 'size', 'height']) {
    const value = typedNumber(given[name]!);
    if (value === null || !(value > 0))
      return refused({ why: 'out-of-range', message: `The ${name} must be a number above 0.` });
    values[name] = value;
  }
  return brineReport({
    table: BRINES.get(given.salt!)!,
    massPercent: null,
    densityKgM3: values.density! * 1000,
    volumeMl: values.volume!,
    materials: MATERIALS,
    sizeUm: values.size!,
    heightMm: values.height!,
    shape: USUAL_SHAPES.fragment,
  });
}

function Recipe({ made }: { made: BrineReport }) {
  const draw = useMemo(
    () => (width: number) =>
      densityScale({
        materials: made.materials,
        liquidGMl: made.density_kg_m3 / 1000,
        toleranceGMl: made.density_tolerance_kg_m3 / 1000,
        width,
        name: 'liquid-brine',
      }),
    [made],
  );
  const undecided = made.materials.filter((one) => one.verdict === 'undecided').map((one) => one.code);
  const slowest = Math.max(
    0,
    ...made.materials.map((one) => (one.verdict === 'floats' ? (one.clears_in_s ?? 0) : 0)),
  );
  return (
    <>
      <h2 className="answer">
        {figure(made.salt_g)} g of {made.salt} and {figure(made.water_g)} g of water
      </h2>
      <dl className="facts">
        <Fact name="Share by mass" value={`${figure(made.mass_percent)} %`} />
        <Fact
          name="Density"
          value={`${(made.density_kg_m3 / 1000).toFixed(3)} g/mL`}
          note={`± ${(made.density_tolerance_kg_m3 / 1000).toFixed(3)}`}
        />
        <Fact
          name="Viscosity"
          value={made.viscosity_mpa_s === null ? 'not known' : `${figure(made.viscosity_mpa_s)} mPa·s`}
          note="water has 1.0"
        />
        {slowest > 0 ? (
          <Fact
            name="Slowest that floats"
            value={duration(slowest)}
            note={`fragments of ${figure(made.size_um)} µm through ${figure(made.height_mm)} mm`}
          />
        ) : null}
      </dl>
      {made.hydrates.map((one) => (
        <p key={one.name}>
          Bought as {one.name}: {figure(one.salt_g)} g with {figure(one.water_g)} g of water.
        </p>
      ))}
      {made.near_saturation ? (
        <p className="warned">Close to saturation: it may not dissolve whole.</p>
      ) : null}
      <Drawing draw={draw} />
      <p>
        {undecided.length === 0
          ? 'Every material in the table is decided.'
          : `Undecided: ${undecided.join(', ')}. Their printed densities lie on both sides of the brine’s; they may be in either fraction.`}
      </p>
      <Cautions of={made.cautions} />
      <p>
        <small>{made.source}</small>
      </p>
      <MethodLink name="brines" />
    </>
  );
}
