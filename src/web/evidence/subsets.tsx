import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { EvidenceAnswer } from '../../api/index.ts';
import { type BenchTest, benchTest } from '../../bench/index.ts';
import { sampleSize } from '../../science/counting/index.ts';
import { go } from '../app/where.ts';
import { Nothing, Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { toEvidence } from './paths.ts';

/** Draws which pieces to test next, and says how well the share will be known by so many. */
export function DrawSubset({
  study,
  test,
  evidence,
}: {
  study: string;
  test: BenchTest;
  evidence: EvidenceAnswer;
}) {
  const client = useQueryClient();
  const [pieces, setPieces] = useState('12');
  const all = evidence.counted.specimens + evidence.counted.controls;
  const draw = useMutation({
    mutationFn: () =>
      heard(
        ask(
          'drawSubset',
          { study },
          { name: `${test.name} ${evidence.subsets.length + 1}`, test: test.id, pieces: Number(pieces) },
        ),
      ),
    onSuccess: ({ id }) => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      go(toEvidence(study, `subset-${id}`));
    },
  });
  if (all === 0) {
    return <p>Nothing is counted yet. Bring in photographs and keep what belongs to the count; then draw.</p>;
  }
  const submit = (event: FormEvent) => {
    event.preventDefault();
    draw.mutate();
  };
  return (
    <form className="draw-subset" onSubmit={submit}>
      <label>
        Draw{' '}
        <input
          type="number"
          min={1}
          max={all}
          value={pieces}
          onChange={(event) => setPieces(event.currentTarget.value)}
        />{' '}
        of {all} counted pieces at random
      </label>
      <button type="submit" className="button primary" disabled={draw.isPending}>
        Draw and begin
      </button>
      <p className="fine">
        Drawn within shape, size, colour and side, so that the share stands for all; controls’ pieces are
        among them. For a share known to ± 20 % draw {sampleSize(all, 0.2, 0.95)}, to ± 10 %{' '}
        {sampleSize(all, 0.1, 0.95)} of these {all}.
      </p>
      {draw.error ? (
        <p role="alert" className="sheet-problem">
          {draw.error.message}
        </p>
      ) : null}
    </form>
  );
}

export function SubsetsSection({ study, evidence }: { study: string; evidence: EvidenceAnswer }) {
  const { subsets } = evidence;
  return (
    <Section
      title="Random parts under test"
      lead="Drawn before anybody looked at them closely; the seed is on record."
    >
      {subsets.length === 0 ? (
        <Nothing icon="evidence" title="No part drawn yet">
          <p>
            Choose a test above and draw a dozen. Which pieces it takes is left to chance: only then may their
            share speak for the pieces that nobody tested.
          </p>
        </Nothing>
      ) : (
        <ul className="rows">
          {[...subsets].reverse().map((one) => {
            const drawn = one.strata.reduce((sum, stratum) => sum + stratum.drawn, 0);
            const ended = one.strata.reduce((sum, stratum) => sum + stratum.tested + stratum.without, 0);
            return (
              <li key={one.id}>
                <a href={toEvidence(study, `subset-${one.id}`)}>
                  <span className="row-name">{one.name}</span>
                  <span>{benchTest(one.test)?.name}</span>
                  <Steps done={ended} of={drawn} />
                  <span className="row-says">
                    {ended === drawn ? `all ${drawn} tested` : `${ended} of ${many(drawn, 'piece')} tested`}
                    {one.counts && subsets.length > 1 ? '; the claim goes by this one' : ''}
                  </span>
                </a>
              </li>
            );
          })}
        </ul>
      )}
    </Section>
  );
}

/** How far something is, as a row of marks up to some thirty, then as a bar. */
export function Steps({ done, of }: { done: number; of: number }) {
  if (of > 30) {
    return (
      <span className="bar" aria-hidden="true">
        <span style={{ inlineSize: `${of === 0 ? 0 : (100 * done) / of}%` }} />
      </span>
    );
  }
  return (
    <span className="steps-row" aria-hidden="true">
      {Array.from({ length: of }, (_, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: marks have no identity of their own.
        <span key={at} className={at < done ? 'is-done' : undefined} />
      ))}
    </span>
  );
}
