import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { BenchRunJson } from '../../api/index.ts';
import type { Fate, FractionKind } from '../../study/index.ts';
import { Choice, Field, NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { ask, type Body } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { FATE_WORDS, PART_WORDS } from './fraction-words.ts';

/** Where a part of a run’s liquid went, entered afterwards at the desk. */
export function AddFraction({
  study,
  bench,
  onClose,
}: {
  study: string;
  bench: BenchRunJson;
  onClose: () => void;
}) {
  const client = useQueryClient();
  const missing = bench.balance.missing_ml;
  const [kind, setKind] = useState<FractionKind>(bench.fractions.length === 0 ? 'passed' : 'remainder');
  const [fate, setFate] = useState<Fate>(bench.fractions.length === 0 ? 'examined' : 'kept');
  const [volume, setVolume] = useState(
    missing !== null && missing > 0 ? String(Math.round(missing * 10) / 10) : '',
  );
  const [place, setPlace] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const send = useMutation({
    mutationFn: (wish: Body<'addFraction'>) => heard(ask('addFraction', { run: bench.run }, wish)),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['study', study] });
      await client.invalidateQueries({ queryKey: ['sheet', bench.run] });
      onClose();
    },
    onError: (error) => setProblem(error.message),
  });
  const submit = () => {
    const ml = typedNumber(volume);
    if (ml === null || !(ml > 0)) return setProblem('Volume: a number of mL above 0 is needed.');
    setProblem(null);
    send.mutate({ kind, volume_ml: ml, fate, place: place.trim() });
  };
  return (
    <Sheet
      title="Say where a part went"
      lead="Nothing vanishes: each millilitre was looked at, is kept somewhere, was poured away or was lost."
      problem={problem}
      deed="Keep it"
      busy={send.isPending}
      onSubmit={submit}
      onClose={onClose}
    >
      <NumberField label="Volume" value={volume} set={setVolume} unit="mL" />
      <Choice label="What" value={kind} set={setKind} options={PART_WORDS} />
      <Choice label="Where it went" value={fate} set={setFate} options={FATE_WORDS} />
      {fate === 'kept' ? <Field label="Place" value={place} set={setPlace} hint="Shelf and bottle." /> : null}
    </Sheet>
  );
}
