import { useCallback, useState } from 'react';
import { flowCurve } from '../../report/index.ts';
import { type Fate, flowReport, type SheetStep } from '../../study/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Choice, Field, NumberField, typedNumber } from '../look/fields.tsx';
import { filterWish } from '../runs/filter-wish.ts';
import { BenchForm } from './bench-form.tsx';
import { freshId } from './device-store.ts';
import type { FilterHere } from './on-device.ts';
import type { Bench } from './use-bench.ts';

const STEPS_ML = ['5', '10', '20', '25', '50', '100'] as const;

/** Taps at volume marks with the live curve; then what passed, and where the rest is. */
export function Filtration({ line, bench, onEnd }: { line: SheetStep; bench: Bench; onEnd: () => void }) {
  const { filters } = bench.here;
  const current = filters.at(-1);
  const [laying, setLaying] = useState(false);
  if (!current || laying) {
    return (
      <LayFilter
        bench={bench}
        onClose={() => setLaying(false)}
        many={filters.length}
        {...(current ? { onLeave: () => setLaying(false) } : {})}
      />
    );
  }
  return (
    <section className="bench-filtration" aria-label="Filtration">
      <p className="bench-filter">
        {current.name} <small>{current.pore_um} µm</small>{' '}
        <button type="button" className="button quiet" onClick={() => setLaying(true)}>
          Next filter
        </button>
      </p>
      <Marks key={current.id} line={line} bench={bench} filter={current} onEnd={onEnd} />
    </section>
  );
}

/** What has gone through before onto other filters of the run. */
const passedBefore = (bench: Bench): number =>
  bench.here.fractions.filter((one) => one.kind === 'passed').reduce((sum, one) => sum + one.volume_ml, 0);

function Marks({
  line,
  bench,
  filter,
  onEnd,
}: {
  line: SheetStep;
  bench: Bench;
  filter: FilterHere;
  onEnd: () => void;
}) {
  const { step } = line;
  const [stepMl, setStepMl] = useState<(typeof STEPS_ML)[number]>('25');
  const [ending, setEnding] = useState(false);
  const marks = line.marks.filter((mark) => mark.filter === filter.id);
  const first = marks[0];
  const last = marks.at(-1);
  const left =
    step.quantities.volume_ml === undefined ? null : step.quantities.volume_ml - passedBefore(bench);
  const mark = (volume: number) =>
    bench.deed({ do: 'volume-mark', step: step.key, filter: filter.id, volume_ml: volume });
  if (ending) {
    return (
      <EndForm
        bench={bench}
        line={line}
        filter={filter}
        passed={last?.volumeMl ?? null}
        left={left}
        onClose={() => setEnding(false)}
        onEnd={onEnd}
      />
    );
  }
  const next = (last?.volumeMl ?? 0) + Number(stepMl);
  return (
    <>
      {first === undefined ? (
        <button type="button" className="button primary huge" onClick={() => mark(0)}>
          Flow starts now
        </button>
      ) : (
        <>
          <button type="button" className="button primary giant" onClick={() => mark(next)}>
            {next} mL <small>now</small>
          </button>
          <Choice
            label="Marks every"
            value={stepMl}
            set={setStepMl}
            options={STEPS_ML.map((ml) => [ml, `${ml} mL`] as const)}
          />
          <Flow line={line} bench={bench} filter={filter} left={left} />
        </>
      )}
      <button type="button" className="button huge" onClick={() => setEnding(true)}>
        It ends here
      </button>
    </>
  );
}

function Flow({
  line,
  bench,
  filter,
  left,
}: {
  line: SheetStep;
  bench: Bench;
  filter: FilterHere;
  left: number | null;
}) {
  const marks = line.marks.filter((mark) => mark.filter === filter.id);
  const start = Date.parse(marks[0]!.at);
  const made = flowReport({
    marks: marks.map((mark) => ({ time_s: (Date.parse(mark.at) - start) / 1000, volume_ml: mark.volumeMl })),
    total_ml: left !== null && left > 0 ? left : null,
    area_cm2: (Math.PI / 4) * (filter.effective_diameter_mm / 10) ** 2,
    pore_um: filter.pore_um,
    smallest_um: bench.sheet.smallest_um > 0 ? bench.sheet.smallest_um : null,
  });
  const flow = made.ok ? made.value : null;
  const draw = useCallback(
    (width: number) => (flow ? flowCurve({ flow, width, name: `flow-${filter.id}` }) : ''),
    [flow, filter.id],
  );
  if (!made.ok) return <p className="bench-flow-wait">{made.refusal.message}</p>;
  return (
    <div className="bench-flow">
      <ul className="bench-advice" aria-label="Advice">
        {made.value.advice.slice(0, 3).map((one) => (
          <li key={one.kind} className={`advice-${one.kind}`}>
            {one.message}
          </li>
        ))}
      </ul>
      <Drawing draw={draw} />
      <p className="fine">{made.value.law_sentence}</p>
      {made.value.advice.length > 3 ? (
        <details>
          <summary>More advice ({made.value.advice.length - 3})</summary>
          <ul>
            {made.value.advice.slice(3).map((one) => (
              <li key={one.kind}>{one.message}</li>
            ))}
          </ul>
        </details>
      ) : null}
      {made.value.cautions.map((caution) => (
        <p className="warned" key={caution}>
          {caution}
        </p>
      ))}
    </div>
  );
}

const FATES: readonly (readonly [Fate, string])[] = [
  ['kept', 'kept'],
  ['discarded', 'poured away'],
  ['lost', 'spilt or lost'],
];

function EndForm({
  bench,
  line,
  filter,
  passed: lastMark,
  left: poured,
  onClose,
  onEnd,
}: {
  bench: Bench;
  line: SheetStep;
  filter: FilterHere;
  passed: number | null;
  left: number | null;
  onClose: () => void;
  onEnd: () => void;
}) {
  const all = lastMark === null || poured === null ? null : Math.max(0, poured - lastMark);
  const [passed, setPassed] = useState(lastMark === null ? '' : String(lastMark));
  const [rest, setRest] = useState(all === null ? '' : String(Math.round(all * 10) / 10));
  const [clogged, setClogged] = useState<'yes' | 'no'>(all !== null && all > 0 ? 'yes' : 'no');
  const [fate, setFate] = useState<Fate>('kept');
  const [place, setPlace] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const submit = () => {
    const [through, remains] = [typedNumber(passed), typedNumber(rest)];
    if (through === null || through < 0) return setProblem('Passed: a number of mL from 0 is needed.');
    if (remains === null || remains < 0)
      return setProblem('Left over: a number of mL from 0 is needed; 0 where all has passed.');
    if (through === 0 && remains === 0)
      return setProblem('Nothing passed and nothing is left: one must be above 0.');
    if (remains > 0 && fate === 'kept' && place.trim() === '')
      return setProblem('Place: say where the kept rest stands, so that it can be found again.');
    bench.deed({
      do: 'filtered',
      step: line.step.key,
      filter: filter.id,
      passed_ml: through,
      remainder_ml: remains,
      remainder: freshId(),
      place: place.trim(),
      fate,
      clogged: clogged === 'yes',
    });
    onClose();
    onEnd();
  };
  return (
    <BenchForm
      label="End of the filtration"
      keep="Keep it so"
      leave="Not yet"
      problem={problem}
      onKeep={submit}
      onLeave={onClose}
    >
      <NumberField label="Passed" value={passed} set={setPassed} unit="mL" />
      <NumberField
        label="Left over"
        value={rest}
        set={setRest}
        unit="mL"
        hint="Nothing vanishes: all that did not pass."
      />
      <Choice
        label="The filter"
        value={clogged}
        set={setClogged}
        options={[
          ['no', 'took it all'],
          ['yes', 'clogged'],
        ]}
      />
      {typedNumber(rest) === 0 ? null : (
        <>
          <Choice label="The rest is" value={fate} set={setFate} options={FATES} />
          {fate === 'kept' ? (
            <Field label="Place" value={place} set={setPlace} hint="Shelf and bottle." />
          ) : null}
        </>
      )}
    </BenchForm>
  );
}

function LayFilter({
  bench,
  many,
  onClose,
  onLeave,
}: {
  bench: Bench;
  many: number;
  onClose: () => void;
  onLeave?: () => void;
}) {
  const last = bench.sheet.last_filter;
  const { name: run } = bench.sheet.run;
  const [name, setName] = useState(many === 0 ? `Filter ${run}` : `Filter ${run}, ${many + 1}`);
  const [form, change] = useState({
    material: last?.material ?? '',
    pore: last ? String(last.pore_um) : '',
    diameter: last ? String(last.effective_diameter_mm) : '',
    pitch: last?.pitch_mm ? String(last.pitch_mm) : '',
    lot: last?.lot ?? '',
  });
  const [problem, setProblem] = useState<string | null>(null);
  const set = (field: keyof typeof form) => (value: string) => change((now) => ({ ...now, [field]: value }));
  const submit = () => {
    const wish = filterWish(name, form);
    if (typeof wish === 'string') return setProblem(wish);
    const { material, pore_um, effective_diameter_mm, pitch_mm, lot } = wish;
    const fraction = null;
    bench.deed({ do: 'lay-filter', name, material, pore_um, effective_diameter_mm, pitch_mm, lot, fraction });
    onClose();
  };
  return (
    <BenchForm label="Lay a filter" keep="Lay it" problem={problem} onKeep={submit} onLeave={onLeave}>
      <Field label="Filter" value={name} set={setName} />
      <NumberField label="Pore" value={form.pore} set={set('pore')} unit="µm" />
      <NumberField label="Diameter of the disc" value={form.diameter} set={set('diameter')} unit="mm" />
      <NumberField label="Printed squares" value={form.pitch} set={set('pitch')} unit="mm" />
      <Field label="Lot" value={form.lot} set={set('lot')} />
    </BenchForm>
  );
}
