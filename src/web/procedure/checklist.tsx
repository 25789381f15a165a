import { useQuery } from '@tanstack/react-query';
import type { ChecklistItemJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { checklistQuery } from '../server/queries.ts';

const PLACE_WORDS: { readonly [P in ChecklistItemJson['place']]: string } = {
  question: 'Question',
  procedure: 'Procedure',
  runs: 'Runs',
  filters: 'Filters',
  evidence: 'Evidence',
  claim: 'Claim',
};

/** What published guidelines ask a study to report, filled by the records: what is missing first, and where to enter it. */
export function ReportingChecklist({ study }: { study: string }) {
  const { data } = useQuery(checklistQuery(study));
  if (!data) return null;
  const of = (state: ChecklistItemJson['state'], severity?: ChecklistItemJson['severity']) =>
    data.items.filter(
      (item) => item.state === state && (severity === undefined || item.severity === severity),
    );
  const done = of('done');
  const notHere = of('not-applicable');
  const asked = data.items.length - notHere.length;
  return (
    <Section
      id="checklist"
      title="What a reader will ask for"
      lead={`Items of published reporting and quality guidelines, filled by the records: ${done.length} of ${asked} are there.`}
    >
      <Missing
        title="Missing, and no figure stands without it"
        items={of('missing', 'blocks')}
        study={study}
      />
      <Missing title="Missing, and it weakens the claim" items={of('missing', 'weakens')} study={study} />
      <details className="checklist-rest">
        <summary>{many(done.length, 'item')} there</summary>
        <Items items={done} study={study} />
      </details>
      {notHere.length > 0 ? (
        <details className="checklist-rest">
          <summary>{many(notHere.length, 'item')} not asked for here, with the reason</summary>
          <Items items={notHere} study={study} />
        </details>
      ) : null}
      <details className="checklist-rest">
        <summary>
          Two published scores:{' '}
          {data.scores.map(({ name, total, most }) => `${name.split(',')[0]} ${total} of ${most}`).join(', ')}
        </summary>
        {data.scores.map((score) => (
          <div key={score.name} className="score">
            <h3>
              {score.name}: {score.total} of {score.most}
            </h3>
            {score.any_nought ? (
              <p className="warned">
                One criterion stands at nought: by the published rule the study as a whole is then not held
                reliable, whatever its sum.
              </p>
            ) : null}
            <ul className="plain-facts">
              {score.criteria.map((criterion) => (
                <li key={criterion.name}>
                  <strong>{criterion.score}</strong> {criterion.name} <small>{criterion.because}</small>
                </li>
              ))}
            </ul>
          </div>
        ))}
        <p className="fine">
          What earns a one or a two is from memory and unverified. No percentage is made of it: good paperwork
          can hide a missing control.
        </p>
      </details>
      <p className="section-deeds">
        <MethodLink name="checklist" />
      </p>
    </Section>
  );
}

function Missing({
  title,
  items,
  study,
}: {
  title: string;
  items: readonly ChecklistItemJson[];
  study: string;
}) {
  if (items.length === 0) return null;
  return (
    <>
      <h3 className="checklist-head">{title}</h3>
      <Items items={items} study={study} />
    </>
  );
}

function Items({ items, study }: { items: readonly ChecklistItemJson[]; study: string }) {
  return (
    <ul className="checklist">
      {items.map((item) => (
        <li key={item.id} className={item.state}>
          <span className="checklist-mark" aria-hidden="true">
            {item.state === 'done' ? '✓' : item.state === 'missing' ? '○' : '–'}
          </span>
          <span>
            {item.asks}
            <span className="says">
              {item.says}{' '}
              {item.state === 'missing' ? (
                <a href={pathTo({ page: item.place, study, item: null })}>{PLACE_WORDS[item.place]}</a>
              ) : null}
            </span>
            <small className="checklist-anchor">
              {item.id} · {item.anchor}
            </small>
          </span>
        </li>
      ))}
    </ul>
  );
}
