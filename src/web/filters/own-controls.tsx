import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { FalseFindsAnswer, LearningWish, SearchJson } from '../../api/index.ts';
import { figure, ownRateWords } from '../../report/index.ts';
import { Choice, NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { KIND_WORDS, many } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { ask } from '../server/ask.ts';
import { falseFindsQuery, heard, searchQuery } from '../server/queries.ts';
import { Ticks } from '../studies/ticks.tsx';
import { UnderWay } from './under-way.tsx';

type DroppedAre = LearningWish['dropped_are'];
const DROPPED_WORDS: readonly (readonly [DroppedAre, string])[] = [
  ['false-finds', 'print, grain, stains, light'],
  ['real-things', 'real things, such as dust and food'],
];

type Measured = NonNullable<FalseFindsAnswer['measured']>;

/** What false finds each setting gives on the study's own controls, and taking over the one that holds. */
export function OwnControls({ study, now }: { study: string; now: SearchJson }) {
  const client = useQueryClient();
  const query = falseFindsQuery(study);
  const { data } = useQuery(query);
  const [choosing, setChoosing] = useState(false);
  const stop = useMutation({
    mutationFn: () => heard(ask('stopLearning', { study })),
    onSuccess: () => client.invalidateQueries({ queryKey: query.queryKey }),
  });
  const at = data?.measured?.at ?? null;
  // A new measurement tells what the setting in force gives, here and beside the claim.
  useEffect(() => {
    if (at !== null) void client.invalidateQueries({ queryKey: searchQuery(study).queryKey });
  }, [client, study, at]);
  if (!data) return null;
  const { under_way, busy_elsewhere, measured, controls, refusal } = data;
  return (
    <div className="own-controls">
      <h3>On your own controls</h3>
      {measured ? (
        <Result study={study} measured={measured} now={now} />
      ) : under_way ? null : (
        <p>
          Not measured yet. The setting was tuned on drawn membranes; a grainier one gives more false finds
          than asked for, a calmer one fewer.
        </p>
      )}
      {under_way ? (
        <UnderWay
          progress={under_way}
          what="Controls searched"
          words={`${under_way.done} of ${under_way.of} searches; further settings follow where needed`}
          stop={() => stop.mutate()}
        />
      ) : choosing ? (
        <Choosing
          study={study}
          controls={controls}
          wanted={measured?.wanted ?? now.false_finds_per_blank}
          close={() => setChoosing(false)}
        />
      ) : controls.length === 0 ? (
        <p className="fine">There is no searched photograph of a control to learn from yet.</p>
      ) : (
        <button type="button" className="button" disabled={busy_elsewhere} onClick={() => setChoosing(true)}>
          {measured ? 'Learn again from own controls' : 'Learn from own controls'}
        </button>
      )}
      {busy_elsewhere ? (
        <p className="fine">Controls of another study are being searched; these can follow.</p>
      ) : null}
      {refusal && !under_way ? (
        <p className="warned" role="alert">
          {refusal.message}
        </p>
      ) : null}
    </div>
  );
}

function Choosing({
  study,
  controls,
  wanted: before,
  close,
}: {
  study: string;
  controls: FalseFindsAnswer['controls'];
  wanted: number;
  close: () => void;
}) {
  const client = useQueryClient();
  const [wanted, setWanted] = useState(figure(before));
  const [chosen, setChosen] = useState<readonly string[]>(() =>
    controls.filter(({ barest }) => barest).map(({ filter }) => filter),
  );
  const [dropped, setDropped] = useState<DroppedAre>('false-finds');
  const [problem, setProblem] = useState<string | null>(null);
  const learn = useMutation({
    mutationFn: (wish: { filters: string[]; wanted: number; dropped_are: DroppedAre }) =>
      heard(ask('learnFromControls', { study }, wish)),
    onSuccess: (answer) => {
      client.setQueryData(falseFindsQuery(study).queryKey, answer);
      close();
    },
    onError: (error) => setProblem(error.message),
  });
  const photographs = controls
    .filter(({ filter }) => chosen.includes(filter))
    .reduce((sum, one) => sum + one.photographs, 0);
  return (
    <Sheet
      title="Learn from own controls"
      lead="Photographs of the chosen controls are searched at several settings, until it is plain which one gives the false finds that you accept. What you kept or tested there is a real piece; what nobody decided on counts as false in the choice. Nothing is changed by it."
      problem={problem}
      deed={`Search ${many(photographs, 'photograph')}`}
      busy={learn.isPending || photographs === 0}
      onClose={close}
      onSubmit={() => {
        setProblem(null);
        const value = typedNumber(wanted);
        if (value === null || value < 0.01 || value > 50) {
          setProblem('False finds accepted: a number from 0.01 to 50 is needed.');
        } else learn.mutate({ filters: [...chosen], wanted: value, dropped_are: dropped });
      }}
    >
      <NumberField
        label="False finds accepted on a photograph of an empty filter"
        value={wanted}
        set={setWanted}
        hint="On average. For half a false find at least six photographs are needed."
      />
      <Choice
        label="What was dropped there"
        value={dropped}
        set={setDropped}
        options={DROPPED_WORDS}
        hint="Where it is some of both, choose print and grain: the setting comes out stricter than need be."
      />
      <Ticks
        legend="Controls"
        all={controls.map(({ filter, name, kind, photographs: own }) => [
          filter,
          `${name}, ${KIND_WORDS[kind]}${own === 1 ? '' : `, ${many(own, 'photograph')}`}`,
        ])}
        chosen={chosen}
        set={setChosen}
      />
    </Sheet>
  );
}

function Result({ study, measured, now }: { study: string; measured: Measured; now: SearchJson }) {
  const client = useQueryClient();
  const { ask: setting, because, outdated, wanted, rates, photographs, method } = measured;
  const take = useMutation({
    mutationFn: (asked: number) =>
      heard(ask('setSearch', { study }, { false_finds_per_blank: asked, smallest_um: now.smallest_um })),
    onSuccess: (answer) => client.setQueryData(searchQuery(study).queryKey, answer),
  });
  const undecided = Math.max(...rates.map((rate) => rate.undecided));
  const differ = rates.some(({ scatter_p }) => scatter_p !== null && scatter_p < 1 - measured.confidence);
  return (
    <>
      {outdated ? <p className="warned">{outdated}</p> : null}
      <table className="ways-table">
        <caption className="unseen">False finds on own controls, by the setting asked for</caption>
        <thead>
          <tr>
            <th scope="col">Asked for</th>
            <th scope="col">False finds a photograph</th>
          </tr>
        </thead>
        <tbody>
          {rates.map((rate) => (
            <tr key={rate.asked}>
              <th scope="row">
                {figure(rate.asked)}
                {rate.asked === setting ? ' (holds)' : ''}
              </th>
              <td>{ownRateWords({ ...rate, confidence: measured.confidence })}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        {because ??
          `To have no more than ${figure(wanted)} false finds a photograph on these membranes, ask for ${figure(setting!)}.`}
      </p>
      {setting === null && measured.dropped_are === 'false-finds' && rates[0]!.false_finds > 0 ? (
        <p className="fine">
          What was dropped on these photographs was taken for false finds. Where it was dust or food, say so
          and learn again.
        </p>
      ) : null}
      {setting !== null && outdated === null && setting !== now.false_finds_per_blank ? (
        <p>
          <button
            type="button"
            className="button primary"
            disabled={take.isPending}
            onClick={() => take.mutate(setting)}
          >
            Ask for {figure(setting)} from now on
          </button>
        </p>
      ) : null}
      {take.error ? (
        <p className="warned" role="alert">
          {take.error.message}
        </p>
      ) : null}
      {undecided > 0 ? (
        <p className="fine">
          Up to {many(undecided, 'find')} on these photographs {undecided === 1 ? 'is' : 'are'} undecided and
          may be false or real: deciding on them narrows the ranges.
        </p>
      ) : null}
      {differ ? (
        <p className="fine">
          The photographs differ from one another by more than chance: the ranges are too narrow.
        </p>
      ) : null}
      <p className="fine">
        {many(photographs, 'control photograph')}, dropped pieces taken for{' '}
        {measured.dropped_are === 'false-finds' ? 'false finds' : 'real things'}; {method.name}{' '}
        {method.version}, {measured.by}, {measured.at.slice(0, 10)}. <MethodLink name="finding" />
      </p>
    </>
  );
}
