import { useState } from 'react';
import type { Fate, FractionKind } from '../../study/index.ts';
import { Choice, Field, NumberField, typedNumber } from '../look/fields.tsx';
import { FATE_WORDS, PART_WORDS } from '../runs/fraction-words.ts';
import { BenchForm } from './bench-form.tsx';
import type { Bench } from './use-bench.ts';

/** Where a part of the liquid went, so that nothing vanishes. */
export function FractionForm({ bench, onClose }: { bench: Bench; onClose: () => void }) {
  const missing = bench.here.balance.missingMl;
  const [kind, setKind] = useState<FractionKind>('remainder');
  const [fate, setFate] = useState<Fate>('kept');
  const [volume, setVolume] = useState(
    missing !== null && missing > 0 ? String(Math.round(missing * 10) / 10) : '',
  );
  const [place, setPlace] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const submit = () => {
    const ml = typedNumber(volume);
    if (ml === null || !(ml > 0)) return setProblem('Volume: a number of mL above 0 is needed.');
    if (fate === 'kept' && place.trim() === '')
      return setProblem('Place: say where it stands, so that it can be found again.');
    bench.deed({ do: 'fraction', kind, volume_ml: ml, place: place.trim(), fate, note: '' });
    onClose();
  };
  return (
    <BenchForm label="Where a part went" keep="Keep it" problem={problem} onKeep={submit} onLeave={onClose}>
      <NumberField label="Volume" value={volume} set={setVolume} unit="mL" />
      <Choice label="What" value={kind} set={setKind} options={PART_WORDS} />
      <Choice label="Where it went" value={fate} set={setFate} options={FATE_WORDS} />
      {fate === 'kept' ? <Field label="Place" value={place} set={setPlace} hint="Shelf and bottle." /> : null}
    </BenchForm>
  );
}
