import { useState } from 'react';
import { kindOf, type SheetStep, tapProblem } from '../../study/index.ts';
import { NumberField, typedNumber } from '../look/fields.tsx';
import { BenchForm } from './bench-form.tsx';

/** Actual amounts at the end of a step: as planned, or as timed, until somebody says otherwise. */
export function FinishForm({
  line,
  onFinish,
  onClose,
}: {
  line: SheetStep;
  onFinish: (quantities: Readonly<Record<string, number>>) => void;
  onClose: () => void;
}) {
  const { step } = line;
  const asked = (kindOf(step)?.quantities ?? []).filter((one) => one.name in step.quantities);
  const [typed, setTyped] = useState(() =>
    Object.fromEntries(asked.map((one) => [one.name, String(beginning(one.name, line))])),
  );
  const [problem, setProblem] = useState<string | null>(null);
  const submit = () => {
    const amounts: Record<string, number> = {};
    for (const { name, label } of asked) {
      const amount = typedNumber(typed[name] ?? '');
      if (amount === null) return setProblem(`${label}: a number is needed.`);
      amounts[name] = amount;
    }
    const cannotBe = tapProblem({ do: 'finish', step: step.key, quantities: amounts }, [step], []);
    if (cannotBe) return setProblem(cannotBe.message);
    onFinish(amounts);
  };
  return (
    <BenchForm
      label="As it was done"
      keep="Done so"
      leave="Not yet"
      problem={problem}
      onKeep={submit}
      onLeave={onClose}
    >
      {asked.map(({ name, label }) => (
        <NumberField
          key={name}
          label={`${label.charAt(0).toUpperCase()}${label.slice(1)} as it was`}
          value={typed[name] ?? ''}
          set={(value) => setTyped((now) => ({ ...now, [name]: value }))}
          unit={unitOf(name)}
          hint={`Planned: ${step.quantities[name]}`}
        />
      ))}
    </BenchForm>
  );
}

function beginning(name: string, line: SheetStep): number {
  const { step, startedAt } = line;
  if (name === 'minutes' && startedAt !== null) {
    const passed = (Date.now() - Date.parse(startedAt)) / 60_000;
    if (passed >= 0) return passed < 10 ? Math.round(passed * 10) / 10 : Math.round(passed);
  }
  return step.quantities[name] ?? 0;
}

const UNITS: Readonly<Record<string, string>> = {
  volume_ml: 'mL',
  mass_g: 'g',
  minutes: 'min',
  temperature_c: '°C',
  times: 'times',
  pore_um: 'µm',
};
export const unitOf = (name: string): string => UNITS[name] ?? name.slice(name.lastIndexOf('_') + 1);
