import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { lazy, Suspense, useCallback, useState } from 'react';
import type { PublishedAnswer, PublishedJson } from '../../api/index.ts';
import { figure, netInterval, percent } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section, Waiting } from '../look/parts.tsx';
import { unbroken, upper } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard, publishedQuery } from '../server/queries.ts';
import { WhereFrom } from './where-from.tsx';

const PublishedForm = lazy(async () => ({ default: (await import('./published-form.tsx')).PublishedForm }));

const VERDICT: { readonly [V in PublishedJson['verdict']]: string } = {
  comparable: 'Comparable',
  'in-sizes': 'Comparable over some sizes',
  'not-comparable': 'Not comparable',
};
export const ANSWER_WORDS = { same: 'same', different: 'different', 'not-stated': 'not stated' } as const;

/** Published values, each beside the study's own only after the questions that make two values comparable. */
export function Published({
  study,
  specimens,
}: {
  study: string;
  specimens: readonly { readonly id: string; readonly name: string }[];
}) {
  const { data } = useQuery(publishedQuery(study));
  /** The entry that is being changed; `new` for a further one. */
  const [writing, setWriting] = useState<string | null>(null);
  if (!data) return null;
  const standing = data.values.filter((one) => one.stands);
  const back = data.values.filter((one) => !one.stands);
  const form = (given: PublishedJson | null) => (
    <Suspense fallback={<Waiting what="the questions" />}>
      <PublishedForm
        study={study}
        specimens={specimens}
        answer={data}
        given={given}
        close={() => setWriting(null)}
      />
    </Suspense>
  );
  return (
    <Section
      title="Beside a published value"
      id="published"
      lead="“They found 600 and we found 30” says nothing until both counted the same things in the same way. Ten questions come first; then a ratio with its interval, over the sizes counted in both, or the reason why there is none."
    >
      <ul className="published">
        {standing.map((one) =>
          writing === one.entry ? (
            <li key={one.entry}>{form(one)}</li>
          ) : (
            <One key={one.entry} study={study} one={one} answer={data} change={() => setWriting(one.entry)} />
          ),
        )}
      </ul>
      {writing === 'new' ? (
        form(null)
      ) : (
        <button type="button" className="button" onClick={() => setWriting('new')}>
          {standing.length === 0 ? 'Enter a published value' : 'Enter another'}
        </button>
      )}
      {back.length > 0 ? (
        <details className="published-back">
          <summary>Taken back: {back.length}</summary>
          <ul>
            {back.map((one) => (
              <li key={one.entry}>
                {one.published.source} <Stand study={study} one={one} />
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </Section>
  );
}

function One({
  study,
  one,
  answer,
  change,
}: {
  study: string;
  one: PublishedJson;
  answer: PublishedAnswer;
  change: () => void;
}) {
  return (
    <li className="published-one">
      <h3>{one.published.source}</h3>
      <p className={`verdict verdict-${one.verdict}`}>{VERDICT[one.verdict]}</p>
      <p className="published-says">{unbroken(one.sentence)}</p>
      <BothPicture one={one} />
      {one.but.length > 0 ? (
        <ul className="reasons">
          {one.but.map((but) => (
            <li key={but}>{upper(but)}.</li>
          ))}
        </ul>
      ) : null}
      {one.published.note === '' ? null : <p>{one.published.note}</p>}
      <WhereFrom
        study={study}
        formula="Ratio R of the two values at which ours less R times theirs has a limit of nought. Our own pieces are counted again over the sizes compared; the published value is taken over whole bands of its own size table, never stretched by an assumed law."
        source="Zou & Donner 2008, Stat. Med. 27:1693; Donner & Zou 2012, Stat. Methods Med. Res. 21:347. Questions after Cowger et al. 2020 and Koelmans et al. 2019."
        method="published-values"
        deceives="answers are guessed: “not stated” is an answer, and the honest one where a paper is silent."
      >
        <Answers one={one} answer={answer} />
      </WhereFrom>
      <p className="fine">
        Answered by {one.by}, {one.at.slice(0, 10)}
        {one.editions > 1 ? `; edition ${one.editions}, earlier ones are kept` : ''}.
      </p>
      <p className="section-deeds">
        <button type="button" className="button" onClick={change}>
          Change
        </button>{' '}
        <Stand study={study} one={one} />
      </p>
    </li>
  );
}

/** Takes a comparison back, or puts it back. */
function Stand({ study, one }: { study: string; one: PublishedJson }) {
  const client = useQueryClient();
  const put = useMutation({
    mutationFn: () =>
      heard(ask('setPublishedStanding', { study, entry: one.entry }, { stands: !one.stands })),
    onSuccess: () => client.invalidateQueries({ queryKey: publishedQuery(study).queryKey }),
  });
  return (
    <>
      <button
        type="button"
        className="button quiet"
        disabled={put.isPending}
        onClick={() => put.mutate()}
        aria-label={`${one.stands ? 'Take back' : 'Put back'}: ${one.published.source}`}
      >
        {one.stands ? 'Take back' : 'Put back'}
      </button>
      {put.error ? (
        <span role="alert" className="sheet-problem">
          {put.error.message}
        </span>
      ) : null}
    </>
  );
}

/** Both values on one axis, over the same sizes. */
function BothPicture({ one }: { one: PublishedJson }) {
  const { ours_per_gram: ours, theirs_per_gram: theirs, entry } = one;
  const draw = useCallback(
    (width: number) =>
      netInterval({
        rows: [
          { label: 'Here', ...ours!, main: true },
          { label: 'Published', ...theirs!, main: false },
        ],
        unit: 'particles per gram, over the sizes compared',
        confidence: ours!.confidence,
        detectable: null,
        width,
        name: `published-${entry}`,
      }),
    [ours, theirs, entry],
  );
  if (!ours || !theirs) return null;
  return (
    <figure className="picture">
      <Drawing draw={draw} />
    </figure>
  );
}

function Answers({ one, answer }: { one: PublishedJson; answer: PublishedAnswer }) {
  const { published, share } = one;
  const { spread } = published;
  return (
    <>
      <p>
        Published: {figure(published.per_gram)} per gram
        {spread.kind === 'interval'
          ? `, ${figure(spread.lower)} to ${figure(spread.upper)} (${percent(spread.confidence)})`
          : spread.kind === 'runs'
            ? `, standard deviation ${figure(spread.sd)} between ${spread.runs} runs`
            : ', no interval published'}
        {share !== null && share < 1 ? `; ${percent(share)} of it lies in the sizes compared` : ''}.
      </p>
      <table className="ways-table">
        <thead>
          <tr>
            <th scope="col">Question</th>
            <th scope="col">Here</th>
            <th scope="col">There</th>
          </tr>
        </thead>
        <tbody>
          {answer.questions.map(({ key, asks, here }) => (
            <tr key={key} className={published.answers[key] === 'same' ? undefined : 'differs'}>
              <th scope="row">{asks}</th>
              <td>{here}</td>
              <td>{ANSWER_WORDS[published.answers[key]]}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
