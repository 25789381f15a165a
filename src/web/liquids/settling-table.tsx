import { useMemo, useState } from 'react';
import { settlingMap } from '../../report/index.ts';
import {
  BRINES,
  brineAt,
  densestPercent,
  liquidOf,
  MATERIALS,
  SHAPE_KINDS,
  type ShapeKind,
  USUAL_SHAPES,
  water,
} from '../../science/fluids/index.ts';
import { type SettleReport, type SettleWish, settleReport } from '../../study/index.ts';
import { celsius, done, type Outcome, refused } from '../../units/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Choice, NumberField, typedNumber } from '../look/fields.tsx';
import { MethodLink } from '../methods/method-link.tsx';
import { Cautions, duration, Trouble, Working } from './working.tsx';

const SIZES = [5, 10, 20, 50, 100, 200, 500, 1000];
const LIQUIDS: readonly (readonly [string, string])[] = [
  ['water', 'water'],
  ...[...BRINES.values()]
    .filter((table) => liquidOf(brineAt(table, densestPercent(table))) !== null)
    .map((table): [string, string] => [table.formula, `${table.salt} brine`]),
];

/** Height, time and liquid in; where every material and size is, out. */
export function SettlingTable() {
  const [liquid, setLiquid] = useState('water');
  const [temperature, setTemperature] = useState('20');
  const [share, setShare] = useState('20');
  const [height, setHeight] = useState('100');
  const [minutes, setMinutes] = useState('10');
  const [shape, setShape] = useState<ShapeKind>('fragment');
  const outcome = useMemo(
    () => settled({ liquid, temperature, share, height, minutes, shape }),
    [liquid, temperature, share, height, minutes, shape],
  );
  return (
    <Working
      inputs={
        <>
          <Choice label="Liquid" value={liquid} set={setLiquid} options={LIQUIDS} />
          {liquid === 'water' ? (
            <NumberField label="Temperature" unit="°C" value={temperature} set={setTemperature} />
          ) : (
            <NumberField
              label="Share of salt by mass"
              unit="%"
              value={share}
              set={setShare}
              hint="At 20 °C."
            />
          )}
          <NumberField label="Height of the liquid" unit="mm" value={height} set={setHeight} />
          <NumberField label="Standing still for" unit="min" value={minutes} set={setMinutes} />
          <Choice
            label="Shape of pieces"
            value={shape}
            set={setShape}
            options={SHAPE_KINDS.map((kind) => [kind, SHAPE_WORDS[kind]] as const)}
          />
        </>
      }
    >
      {outcome.ok ? <SettlingPicture report={outcome.value} /> : <Trouble>{outcome.refusal.message}</Trouble>}
    </Working>
  );
}

const SHAPE_WORDS: Readonly<Record<ShapeKind, string>> = {
  sphere: 'sphere',
  fragment: 'fragment',
  fibre: 'fibre, 15 µm thick',
  film: 'film, 25 µm thick',
};

function settled(given: {
  liquid: string;
  temperature: string;
  share: string;
  height: string;
  minutes: string;
  shape: ShapeKind;
}): Outcome<SettleReport> {
  const no = (message: string) => refused({ why: 'out-of-range', message });
  const height = typedNumber(given.height);
  const minutes = typedNumber(given.minutes);
  if (height === null || !(height > 0 && height <= 10_000))
    return no('Height: a number of millimetres above 0, at most 10 000.');
  if (minutes === null || !(minutes >= 0)) return no('Time: a number of minutes from 0.');
  const wish = (liquid: SettleWish['liquid']) =>
    done(
      settleReport({
        liquid,
        heightMm: height,
        afterS: minutes * 60,
        shape: USUAL_SHAPES[given.shape],
        sizesUm: SIZES,
        materials: MATERIALS,
      }),
    );
  if (given.liquid === 'water') {
    const t = typedNumber(given.temperature);
    if (t === null || !(t >= 0 && t <= 100)) return no('Water is liquid from 0 to 100 °C.');
    return wish({ ...water(celsius(t)), name: `water of ${t} °C` });
  }
  const table = BRINES.get(given.liquid)!;
  const percent = typedNumber(given.share);
  const most = densestPercent(table);
  if (percent === null || !(percent >= 0 && percent <= most))
    return no(`${table.salt}: a share from 0 to ${most} % is tabulated.`);
  return wish({ ...liquidOf(brineAt(table, percent))!, name: `${table.salt} brine of ${percent} %` });
}

function SettlingPicture({ report }: { report: SettleReport }) {
  const draw = useMemo(
    () => (width: number) => settlingMap({ settling: report, width, name: 'liquid-settling' }),
    [report],
  );
  const gone = report.materials.filter((m) =>
    m.sizes.some((c) => c.verdict === 'sediment' || c.verdict === 'partly-down'),
  );
  return (
    <>
      <h2 className="answer">
        After {duration(report.after_s)} in {report.height_mm} mm of {report.liquid.name} (
        {(report.liquid.density_kg_m3 / 1000).toFixed(3)} g/mL, {report.liquid.viscosity_mpa_s.toFixed(2)}{' '}
        mPa·s)
      </h2>
      <ul className="key">
        <li>▼ in the sediment</li>
        <li>▽ partly there</li>
        <li>· still in between</li>
        <li>△ partly up</li>
        <li>▲ floats</li>
        <li>? undecided</li>
      </ul>
      <Drawing draw={draw} className="map" />
      {gone.length > 0 ? (
        <p>
          Pouring off the upper part now would lose some of {gone.map((m) => m.code).join(', ')} to the
          sediment: keep it as a fraction of its own.
        </p>
      ) : (
        <p>Nothing has reached the bottom yet.</p>
      )}
      <Cautions of={report.cautions} />
      <MethodLink name="settling" />
    </>
  );
}
