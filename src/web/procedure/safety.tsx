import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { SafetyJson, SafetyWish } from '../../api/index.ts';
import { Field, Sheet } from '../look/fields.tsx';
import { Section } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** What can hurt at these steps, what must not meet, and the questions without whose answers the plan is not ready. */
export function Safety({
  study,
  cautions,
  safety,
}: {
  study: string;
  cautions: readonly string[];
  safety: SafetyJson;
}) {
  const client = useQueryClient();
  const [open, setOpen] = useState(false);
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const keep = useMutation({
    mutationFn: (wish: SafetyWish) => heard(ask('answerSafety', { study }, wish)),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      setOpen(false);
    },
  });
  if (cautions.length === 0) return null;
  return (
    <Section title="Mind at these steps" lead={safety.sentence}>
      <ul className="cautions">
        {safety.stops.map((stop) => (
          <li key={stop} className="warned">
            <strong>Stop.</strong> {stop}
          </li>
        ))}
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      {safety.questions.length > 0 ? (
        open ? (
          <Sheet
            title="Before the work begins"
            lead="Answered in your own words; the answers stand with the plan, with name and day."
            problem={keep.error?.message ?? null}
            deed="Keep the answers"
            busy={keep.isPending}
            onSubmit={() => keep.mutate(typed as SafetyWish)}
            onClose={() => setOpen(false)}
          >
            {safety.questions.map(({ field, asks, answer }) => (
              <Field
                key={field}
                wide
                label={asks}
                value={typed[field] ?? answer}
                set={(text) => setTyped({ ...typed, [field]: text })}
              />
            ))}
          </Sheet>
        ) : (
          <>
            <dl className="safety-answers">
              {safety.questions.map(({ field, asks, answer }) => (
                <div key={field}>
                  <dt>{asks}</dt>
                  <dd>{answer || <span className="warned">not answered</span>}</dd>
                </div>
              ))}
            </dl>
            <p className="section-deeds">
              <button type="button" className="button" onClick={() => setOpen(true)}>
                Answer the safety questions
              </button>
            </p>
          </>
        )
      ) : null}
    </Section>
  );
}
