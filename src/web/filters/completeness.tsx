import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useCallback, useEffect, useRef } from 'react';
import type { CompletenessAnswer } from '../../api/index.ts';
import { foundBySize, percent } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section } from '../look/parts.tsx';
import { lengthWords, many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { completenessQuery, heard } from '../server/queries.ts';
import { UnderWay } from './under-way.tsx';

type Measured = NonNullable<CompletenessAnswer['measured']>;

/** How small a piece these photographs still show, measured on the study's own controls. */
export function CompletenessHere({ study }: { study: string }) {
  const client = useQueryClient();
  const query = completenessQuery(study);
  const { data } = useQuery(query);
  const keep = (answer: CompletenessAnswer) => client.setQueryData(query.queryKey, answer);
  const measure = useMutation({
    mutationFn: () => heard(ask('measureCompleteness', { study })),
    onSuccess: keep,
  });
  const stop = useMutation({
    mutationFn: () => heard(ask('stopCompleteness', { study })),
    onSuccess: () => client.invalidateQueries({ queryKey: query.queryKey }),
  });
  useClaimAnew(study, data?.measured?.at ?? null);
  if (!data) return null;
  const { under_way, busy_elsewhere, measured } = data;
  const refusal = measure.error?.message ?? data.refusal?.message ?? null;
  return (
    <Section
      title="How small a piece is found here"
      lead="Known pieces are drawn into photographs of your own controls, with their light, grain, print and blur, and searched for like any others. The originals stay as they are."
    >
      {measured ? (
        <Result measured={measured} from={data.counted_from_um} />
      ) : under_way ? null : (
        <p>
          Not measured yet: how many small or faint pieces are overlooked on these photographs is not known.
        </p>
      )}
      {under_way ? (
        <UnderWay
          progress={under_way}
          what="Known pieces searched for"
          words={`${under_way.done} of ${under_way.of} known pieces searched for`}
          stop={() => stop.mutate()}
        />
      ) : (
        <button
          type="button"
          className="button"
          disabled={busy_elsewhere || measure.isPending}
          onClick={() => measure.mutate()}
        >
          {measured ? 'Measure again' : 'Draw known pieces and measure'}
        </button>
      )}
      {busy_elsewhere ? <p className="fine">Another study is being measured; this one can follow.</p> : null}
      {refusal && !under_way ? (
        <p className="warned" role="alert">
          {refusal}
        </p>
      ) : null}
    </Section>
  );
}

/** A new measurement changes what the claim says of small pieces. */
function useClaimAnew(study: string, at: string | null): void {
  const client = useQueryClient();
  const before = useRef(at);
  useEffect(() => {
    if (before.current === at) return;
    const first = before.current === null;
    before.current = at;
    if (first && at === null) return;
    void client.invalidateQueries({ queryKey: ['study', study, 'standing'] });
    void client.invalidateQueries({ queryKey: ['study', study, 'claim'] });
  }, [client, study, at]);
}

function Result({ measured, from }: { measured: Measured; from: number }) {
  const draw = useCallback(
    (width: number) =>
      foundBySize({
        rows: measured.by_contrast,
        from,
        confidence: measured.confidence,
        width,
        name: 'completeness',
      }),
    [measured, from],
  );
  const pooled = measured.floors.filter((floor) => floor.shape === 'all' && floor.contrast !== 'all');
  return (
    <>
      <Drawing draw={draw} />
      <table className="ways-table">
        <caption className="unseen">Sizes from which pieces are found, by contrast</caption>
        <thead>
          <tr>
            <th scope="col">Contrast</th>
            <th scope="col">Half are found from</th>
            <th scope="col">Nine in ten are found from</th>
          </tr>
        </thead>
        <tbody>
          {pooled.map(({ contrast, half, nine_tenths }) => (
            <tr key={contrast}>
              <th scope="row">{contrast}</th>
              <td>{floorWords(half)}</td>
              <td>{floorWords(nine_tenths)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="fine">
        {many(measured.drawn, 'piece')} in {many(measured.photographs, 'control photograph')}, all shapes
        together; ranges at {percent(measured.confidence)} confidence. {measured.method.name}{' '}
        {measured.method.version}, {measured.by}, {measured.at.slice(0, 10)}.
      </p>
    </>
  );
}

type FloorJson = Measured['floors'][number]['half'];

function floorWords({ size_um, lower_um, upper_um, because }: FloorJson): string {
  if (size_um === null) return because ?? 'not shown by these sizes';
  const [from, to] = [lower_um, upper_um].map((um) => (um === null ? null : lengthWords(um)));
  const range = from && to ? `${from} to ${to}` : from ? `${from} or more` : to ? `${to} or less` : '';
  return range === '' ? lengthWords(size_um) : `${lengthWords(size_um)} (${range})`;
}
