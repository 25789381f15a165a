import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Failed, Waiting } from '../look/parts.tsx';
import { Categories } from './categories.tsx';
import { claimDetailsQuery } from './details-query.ts';
import { Losses } from './losses.tsx';
import { Mass } from './mass.tsx';
import { OtherQuestions } from './other-questions.tsx';
import { OtherWays } from './other-ways.tsx';
import { Sizes } from './sizes.tsx';
import { WhatWasLookedAt } from './what-was-looked-at.tsx';

/** Everything behind the claim on one specimen, pictures first; the product asked about until another is chosen. */
export function BehindTheClaim({
  study,
  specimens,
}: {
  study: string;
  specimens: readonly { readonly id: string; readonly name: string }[];
}) {
  const [chosen, choose] = useState<string | null>(null);
  const specimen = specimens.find(({ id }) => id === chosen)?.id ?? specimens[0]!.id;
  const { data, error, refetch } = useQuery(claimDetailsQuery(study, specimen));
  return (
    <>
      {specimens.length > 1 ? (
        <fieldset className="choose-specimen">
          <legend>Behind the claim on</legend>
          {specimens.map(({ id, name }) => (
            <button
              key={id}
              type="button"
              className={id === specimen ? 'button primary' : 'button'}
              aria-pressed={id === specimen}
              onClick={() => choose(id)}
            >
              {name}
            </button>
          ))}
        </fieldset>
      ) : null}
      {error && !data ? <Failed error={error} again={() => void refetch()} /> : null}
      {!data && !error ? <Waiting what="what lies behind it" /> : null}
      {data ? (
        <>
          <OtherWays details={data} />
          <WhatWasLookedAt details={data} />
          <Categories details={data} />
          <Sizes details={data} />
          <OtherQuestions details={data} />
          <div className="two">
            <Losses details={data} />
            <Mass details={data} />
          </div>
        </>
      ) : null}
    </>
  );
}
