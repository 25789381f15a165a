import { useMemo, useState } from 'react';
import { figure, flowCurve } from '../../report/index.ts';
import { type FlowReport, flowReport, marksFromTable } from '../../study/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Field, NumberField, typedNumber } from '../look/fields.tsx';
import { Fact } from '../look/parts.tsx';
import { MethodLink } from '../methods/method-link.tsx';
import { Cautions, duration, Trouble, Working } from './working.tsx';

const EXAMPLE = 'time_s, volume_ml\n30, 5\n75, 10\n140, 15\n230, 20\n350, 25\n520, 30';
const LONG_S = 30 * 86_400;

/** Timed volumes in, forecast and plan out. */
export function FlowTable() {
  const [marks, setMarks] = useState(EXAMPLE);
  const [total, setTotal] = useState('200');
  const [area, setArea] = useState('9.6');
  const [onto, setOnto] = useState('');
  const [pore, setPore] = useState('20');
  const [smallest, setSmallest] = useState('50');
  const [diluted, setDiluted] = useState('');
  const [pieces, setPieces] = useState('');
  const outcome = useMemo(
    () => forecast(marks, { total, area, onto, pore, smallest, diluted, pieces }),
    [marks, total, area, onto, pore, smallest, diluted, pieces],
  );
  return (
    <Working
      inputs={
        <>
          <div className="field wide">
            <label htmlFor="liquid-marks">Timed volumes</label>
            <textarea
              id="liquid-marks"
              rows={9}
              spellCheck={false}
              value={marks}
              onChange={(event) => setMarks(event.currentTarget.value)}
              aria-describedby="liquid-marks-hint"
            />
            <small id="liquid-marks-hint" className="field-hint">
              One mark a line, from the start of the flow; the volume that has passed altogether. Paste from a
              table as well. {marks === EXAMPLE ? 'These figures are invented.' : ''}
            </small>
          </div>
          <NumberField label="All of the liquid" unit="mL" value={total} set={setTotal} />
          <NumberField
            label="Wetted area of this filter"
            unit="cm²"
            value={area}
            set={setArea}
            hint="A 35 mm circle has 9.6 cm²; measure the stain."
          />
          <NumberField label="Pore" unit="µm" value={pore} set={setPore} />
          <NumberField label="Smallest piece of interest" unit="µm" value={smallest} set={setSmallest} />
          <details className="more-fields">
            <summary>Pieces expected, test disc, dilution</summary>
            <NumberField
              label="Pieces expected in all of it"
              unit="pieces"
              value={pieces}
              set={setPieces}
              hint="Taken as wide as the smallest of interest."
            />
            <NumberField
              label="Area of the filter to be used"
              unit="cm²"
              value={onto}
              set={setOnto}
              hint="Where the marks come from a small test disc."
            />
            <Field label="Diluted" unit="fold" inputMode="decimal" value={diluted} set={setDiluted} />
          </details>
        </>
      }
    >
      {outcome.ok ? <Forecast flow={outcome.value} /> : <Trouble>{outcome.refusal.message}</Trouble>}
    </Working>
  );
}

function forecast(text: string, fields: Readonly<Record<string, string>>): Outcome<FlowReport> {
  const lines = text.split(/\r?\n/);
  const head = lines.find((line) => line.trim() !== '') ?? '';
  const delimiter = [';', '\t', ','].find((one) => head.includes(one)) ?? ' ';
  const rows = marksFromTable(lines.map((line) => line.split(delimiter)));
  if (!rows.ok) return rows;
  const values: Record<string, number | null> = {};
  for (const [name, written] of Object.entries(fields)) {
    const value = typedNumber(written);
    if (written.trim() !== '' && !(value !== null && value > 0))
      return refused({
        why: 'not-a-number',
        message: `“${written}” is not an amount above 0: correct it or leave it empty.`,
      });
    values[name] = value;
  }
  if (values.diluted !== null && values.diluted! < 1)
    return refused({ why: 'out-of-range', message: 'A dilution is 1 or more: 3 for threefold.' });
  const made = flowReport({
    marks: rows.value.map((mark) => ({ time_s: mark.timeS, volume_ml: mark.volumeMl })),
    total_ml: values.total ?? null,
    area_cm2: values.area ?? null,
    onto_cm2: values.onto ?? null,
    pore_um: values.pore ?? null,
    smallest_um: values.smallest ?? null,
    diluted: values.diluted ?? 1,
    pieces: values.pieces ?? null,
  });
  return made.ok ? done(made.value) : made;
}

function Forecast({ flow }: { flow: FlowReport }) {
  const { capacity_ml: capacity, target } = flow;
  const draw = useMemo(() => (width: number) => flowCurve({ flow, width, name: 'liquid-flow' }), [flow]);
  return (
    <>
      <h2 className="answer">
        {capacity.upper === null
          ? `No end of this filter is in sight: at least ${figure(capacity.lower)} mL pass.`
          : `This filter takes about ${figure(capacity.value)}\u00a0mL (${figure(capacity.lower)} to ${figure(capacity.upper)}\u00a0mL, 90\u00a0%).`}
      </h2>
      <Drawing draw={draw} />
      <p>{flow.law_sentence}</p>
      <dl className="facts">
        {flow.filters === null ? null : <Fact name="Filters for all of it" value={flow.filters} />}
        {flow.per_filter_ml === null ? null : (
          <Fact name="Pour on one filter" value={`${figure(flow.per_filter_ml)} mL`} />
        )}
        {flow.passed === null ? null : (
          <Fact name="Passed so far" value={`${figure(100 * flow.passed)} %`} note="of the liquid" />
        )}
        <Fact
          name="Flow now"
          value={`${figure(Math.round(100 * flow.flow_now_share.value))} %`}
          note="of the start"
        />
        {target === null ? null : (
          <Fact
            name="All of it on one filter"
            value={
              target.time_s === null || target.time_s.value > LONG_S
                ? 'will not pass'
                : duration(target.time_s.value)
            }
          />
        )}
      </dl>
      <h3>What to do</h3>
      <ul className="advice">
        {flow.advice.map((one) => (
          <li key={one.kind}>{one.message}</li>
        ))}
      </ul>
      <Cautions of={flow.cautions} />
      <MethodLink name="filtration" />
    </>
  );
}
