import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { BenchAnswer } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** A seed that nobody chose: from the browser's chance, six digits, so that it can be read aloud and typed again. */
const drawnSeed = (): string => String(crypto.getRandomValues(new Uint32Array(1))[0]! % 1_000_000);

/** Draws the order of runs by chance, interleaved, so that a drift of the day meets runs and controls alike. */
export function OrderRuns({
  study,
  order,
  onClose,
}: {
  study: string;
  order: BenchAnswer['order'];
  onClose: () => void;
}) {
  const client = useQueryClient();
  const [seed, setSeed] = useState(drawnSeed);
  const [problem, setProblem] = useState<string | null>(null);
  const send = useMutation({
    mutationFn: (given: number) => heard(ask('orderRuns', { study }, { seed: given })),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['study', study] });
      say(`The order is drawn from seed ${seed}; the seed is kept.`);
      onClose();
    },
    onError: (error) => setProblem(error.message),
  });
  const submit = () => {
    const given = typedNumber(seed);
    if (given === null || !Number.isInteger(given) || given < 0) {
      return setProblem('Seed: a whole number from 0 is needed; the same seed draws the same order.');
    }
    setProblem(null);
    send.mutate(given);
  };
  return (
    <Sheet
      title="Draw the order"
      lead="Runs and controls are mixed, each kind spread over the whole sitting and its turn left to chance. Runs that are begun keep their places."
      problem={problem}
      deed="Draw it"
      busy={send.isPending}
      onSubmit={submit}
      onClose={onClose}
    >
      <NumberField
        label="Seed"
        value={seed}
        set={setSeed}
        hint={
          order
            ? `The present order was drawn from seed ${order.seed}.`
            : 'Drawn for you; kept with the order, so that anybody can draw it again.'
        }
      />
    </Sheet>
  );
}
