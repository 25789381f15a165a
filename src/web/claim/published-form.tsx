import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { PublishedAnswer, PublishedJson, PublishedWish } from '../../api/index.ts';
import { Choice, Field, NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { lengthWords } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard, publishedQuery } from '../server/queries.ts';
import { ANSWER_WORDS } from './published.tsx';
import { type Typed, typedOf, wishOf } from './published-typed.ts';

type Key = PublishedAnswer['questions'][number]['key'];
const ANSWERS = Object.keys(ANSWER_WORDS) as (keyof typeof ANSWER_WORDS)[];

/** The published value and the questions; nothing is compared before all of them are answered. */
export function PublishedForm({
  study,
  specimens,
  answer,
  given,
  close,
}: {
  study: string;
  specimens: readonly { readonly id: string; readonly name: string }[];
  answer: PublishedAnswer;
  given: PublishedJson | null;
  close: () => void;
}) {
  const client = useQueryClient();
  const [typed, setTyped] = useState<Typed>(() => typedOf(given, specimens[0]!.id));
  const [own, setOwn] = useState<string | null>(null);
  const save = useMutation({
    mutationFn: (wish: PublishedWish) => heard(ask('writePublished', { study }, wish)),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: publishedQuery(study).queryKey });
      close();
    },
  });
  const put =
    <F extends keyof Typed>(field: F) =>
    (value: Typed[F]) =>
      setTyped({ ...typed, [field]: value });
  const submit = () => {
    const wish = wishOf(typed, answer, given?.entry ?? null);
    if (typeof wish === 'string') return setOwn(wish);
    setOwn(null);
    save.mutate(wish);
  };
  return (
    <Sheet
      title={given ? 'Change what was said of it' : 'A published value'}
      lead="Copy it as it is printed. What the paper does not say is “not stated”: that is an answer too."
      problem={own ?? save.error?.message ?? null}
      deed={given ? 'Keep the change' : 'Compare'}
      busy={save.isPending}
      onSubmit={submit}
      onClose={close}
    >
      <Field
        wide
        label="Where it was published"
        value={typed.source}
        set={put('source')}
        placeholder="Authors, year, journal, table"
      />
      {specimens.length > 1 ? (
        <Choice
          label="Held against"
          value={typed.specimen}
          set={put('specimen')}
          options={specimens.map(({ id, name }) => [id, name] as const)}
        />
      ) : null}
      <NumberField label="Published value" unit="per gram" value={typed.perGram} set={put('perGram')} />
      <Choice
        label="Its uncertainty"
        value={typed.kind}
        set={put('kind')}
        options={[
          ['none', 'none is published'],
          ['interval', 'an interval'],
          ['runs', 'a standard deviation between runs'],
        ]}
      />
      {typed.kind === 'interval' ? (
        <>
          <NumberField label="Lower end" unit="per gram" value={typed.lower} set={put('lower')} />
          <NumberField label="Upper end" unit="per gram" value={typed.upper} set={put('upper')} />
          <NumberField label="Confidence" unit="%" value={typed.confidence} set={put('confidence')} />
        </>
      ) : null}
      {typed.kind === 'runs' ? (
        <>
          <NumberField label="Standard deviation" unit="per gram" value={typed.sd} set={put('sd')} />
          <NumberField label="Runs behind it" value={typed.runs} set={put('runs')} />
        </>
      ) : null}
      <NumberField
        label="Sizes from"
        unit="µm"
        value={typed.from}
        set={put('from')}
        hint={`Empty: not stated. Here: from ${lengthWords(answer.own_sizes.from_um)}${answer.own_sizes.to_um === null ? '' : ` to ${lengthWords(answer.own_sizes.to_um)}`}.`}
      />
      <NumberField label="Sizes to" unit="µm" value={typed.to} set={put('to')} hint="Empty: no upper end." />
      <Bands typed={typed} set={put('bands')} />
      <fieldset className="field wide comparability">
        <legend>Was it done there as it was here?</legend>
        {answer.questions.map(({ key, asks, here, bars }) => (
          <Question
            key={key}
            name={key}
            asks={asks}
            here={here}
            bars={bars}
            chosen={typed.answers[key] ?? null}
            choose={(chosen) => setTyped({ ...typed, answers: { ...typed.answers, [key]: chosen } })}
          />
        ))}
      </fieldset>
      <Field wide label="Note" value={typed.note} set={put('note')} />
    </Sheet>
  );
}

function Question({
  name,
  asks,
  here,
  bars,
  chosen,
  choose,
}: {
  name: Key;
  asks: string;
  here: string;
  bars: boolean;
  chosen: keyof typeof ANSWER_WORDS | null;
  choose: (answer: keyof typeof ANSWER_WORDS) => void;
}) {
  return (
    <fieldset className="comparability-one">
      <legend>{asks}</legend>
      <p className="fine">
        Here: {here.replace(/\.$/, '')}.
        {bars ? '' : ' A difference does not bar the comparison; it is said beside it.'}
      </p>
      <div className="comparability-answers">
        {ANSWERS.map((answer) => (
          <label key={answer}>
            <input
              type="radio"
              name={`published-${name}`}
              checked={chosen === answer}
              onChange={() => choose(answer)}
            />{' '}
            {ANSWER_WORDS[answer]}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/** How the published pieces spread over sizes: each band begins where the one before ends. */
function Bands({ typed, set }: { typed: Typed; set: (bands: Typed['bands']) => void }) {
  const { bands } = typed;
  const change = (at: number, band: Typed['bands'][number]) =>
    set(bands.map((one, i) => (i === at ? band : one)));
  const begin = (at: number) => (at === 0 ? typed.from : bands[at - 1]!.to);
  return (
    <fieldset className="field wide comparability">
      <legend>How the published pieces spread over sizes</legend>
      <p className="fine">
        Only needed where other sizes were counted there. A value is never stretched by an assumed law of
        sizes.
      </p>
      {bands.map((band, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: bands have no name but their place
        <div className="band-row" key={at}>
          <span>
            {typedNumber(begin(at)) !== null
              ? `From ${begin(at)} µm`
              : at === 0
                ? 'From the smallest size'
                : 'From where the one before ends'}
          </span>
          <NumberField
            label={at === bands.length - 1 ? 'to (empty: no end)' : 'to'}
            unit="µm"
            value={band.to}
            set={(to) => change(at, { ...band, to })}
          />
          <NumberField
            label="share of the pieces"
            unit="%"
            value={band.share}
            set={(share) => change(at, { ...band, share })}
          />
          <button
            type="button"
            className="button quiet"
            aria-label={`Take band ${at + 1} away`}
            onClick={() => set(bands.filter((_, i) => i !== at))}
          >
            Take away
          </button>
        </div>
      ))}
      <p>
        <button type="button" className="button" onClick={() => set([...bands, { to: '', share: '' }])}>
          {bands.length === 0 ? 'Enter size bands' : 'A further band'}
        </button>
      </p>
    </fieldset>
  );
}
