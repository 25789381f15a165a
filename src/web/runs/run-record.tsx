import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { BenchRunJson, RunJson } from '../../api/index.ts';
import { figure } from '../../report/index.ts';
import { say } from '../app/notices.tsx';
import { Icon } from '../look/icons.tsx';
import { NotYet, Section } from '../look/parts.tsx';
import { addressOf, ask } from '../server/ask.ts';
import { heard, sheetQuery } from '../server/queries.ts';
import { AddFraction } from './add-fraction.tsx';
import { BalancePicture } from './balance-picture.tsx';
import { COVERAGE_WORDS } from './run-state.ts';

const two = (n: number): string => figure(Number(n.toPrecision(2)));

/** What the bench says of a run: where the liquid went, what was done otherwise, what the air may have brought. */
export function RunRecord({ study, run, bench }: { study: string; run: RunJson; bench: BenchRunJson }) {
  const { coverage, uncovered, deposition, balance } = bench;
  const [adding, setAdding] = useState(false);
  const sheet = useQuery(sheetQuery(run.id));
  const pictures = sheet.data?.setup_photos;
  return (
    <>
      <Section title="Where the liquid went">
        <BalancePicture
          name={`balance-${run.id}`}
          balance={{
            inMl: balance.in_ml,
            outMl: balance.out_ml,
            missingMl: balance.missing_ml,
            agrees: balance.agrees,
            sentence: balance.sentence,
            parts: bench.fractions.map(({ kind, fate, volume_ml }) => ({ kind, fate, volumeMl: volume_ml })),
          }}
        />
        <p>{balance.sentence}</p>
        {bench.fractions.length > 0 ? (
          <ul className="fraction-list">
            {bench.fractions.map((one) => (
              <li key={one.id}>
                <span>
                  <strong>{figure(one.volume_ml)} mL</strong> {one.kind}, {one.fate}
                  {one.place ? `: ${one.place}` : ''}
                  {one.note ? ` (${one.note})` : ''}
                </span>
                <TakeBack
                  study={study}
                  what="fraction"
                  subject={one.id}
                  called={`${one.volume_ml} mL ${one.kind}`}
                />
              </li>
            ))}
          </ul>
        ) : null}
        {adding ? (
          <AddFraction study={study} bench={bench} onClose={() => setAdding(false)} />
        ) : (
          <p className="fraction-add">
            <button type="button" className="button" onClick={() => setAdding(true)}>
              Say where a part went
            </button>
          </p>
        )}
      </Section>
      <Section title="Done otherwise">
        {bench.deviations.length === 0 ? (
          <p>Nothing: the run went as its procedure says.</p>
        ) : (
          <ul className="fraction-list">
            {bench.deviations.map((one) => (
              <li key={one.id}>
                <span>
                  {one.what}
                  {one.why ? ` (${one.why})` : ''}
                </span>
                <TakeBack study={study} what="deviation" subject={one.id} called={one.what} />
              </li>
            ))}
          </ul>
        )}
        {coverage ? (
          <div className="run-coverage">
            <p>
              {coverage.gaps.some((gap) => gap.grade !== 'unknown') ? (
                <Icon name="warn" size={20} />
              ) : (
                <Icon name="keep" size={20} />
              )}{' '}
              Against its controls: {COVERAGE_WORDS[coverage.grade]}.
            </p>
            {coverage.gaps.length > 0 ? (
              <ul className="gap-list">
                {coverage.gaps.map((gap) => (
                  <li key={gap.sentence}>{gap.sentence}</li>
                ))}
              </ul>
            ) : null}
          </div>
        ) : null}
      </Section>
      <Section title="Uncovered">
        <p>
          {two(uncovered.minutes)} min
          {uncovered.measured_min > 0
            ? `, ${two(uncovered.measured_min)} of them measured`
            : ', as the procedure says'}
          {uncovered.openings > 0 ? `, opened ${uncovered.openings} times` : ''}
          {uncovered.not_said.length > 0 ? `; not recorded for: ${uncovered.not_said.join(', ')}` : ''}.
        </p>
        <p>
          {deposition
            ? `From the air ${two(deposition.expected)} particles are expected in that time into an opening as large as the dish (${two(deposition.lower)} to ${two(deposition.upper)} at ${Math.round(100 * deposition.confidence)} %), by the dishes of ${deposition.from}.`
            : bench.deposition_refusal?.message}
        </p>
      </Section>
      {bench.problems.length > 0 ? (
        <Section title="Kept as typed">
          {bench.problems.map((problem) => (
            <p className="warned" key={problem}>
              {problem}
            </p>
          ))}
        </Section>
      ) : null}
      {pictures === undefined ? <NotYet query={sheet} what="the pictures of the set-up" /> : null}
      {pictures && pictures.length > 0 ? (
        <Section title="Set-up">
          <div className="setup-photos">
            <ul>
              {pictures.map((picture) => (
                <li key={picture.id}>
                  <a href={addressOf('setupOriginal', { picture: picture.id })} download={picture.name}>
                    <img
                      src={addressOf('setupPicture', { picture: picture.id })}
                      alt={`Set-up, ${picture.name}${picture.step ? `, at ${picture.step}` : ''}`}
                      loading="lazy"
                      width={picture.width_px}
                      height={picture.height_px}
                    />
                  </a>
                </li>
              ))}
            </ul>
          </div>
        </Section>
      ) : null}
    </>
  );
}

function TakeBack({
  study,
  what,
  subject,
  called,
}: {
  study: string;
  what: 'fraction' | 'deviation';
  subject: string;
  called: string;
}) {
  const client = useQueryClient();
  const send = useMutation({
    mutationFn: () =>
      heard(ask('withdraw', { study }, { what, subject, why: 'taken back on the page of the run' })),
    onSuccess: async () => {
      await client.invalidateQueries({ queryKey: ['study', study] });
      await client.invalidateQueries({ queryKey: ['sheet'] });
    },
    onError: (error) => say(error.message),
  });
  return (
    <button type="button" className="button quiet" disabled={send.isPending} onClick={() => send.mutate()}>
      Take back<span className="unseen"> {called}</span>
    </button>
  );
}
