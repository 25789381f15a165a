import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useCallback, useState } from 'react';
import type {
  ComparisonRulesJson,
  CoverageGroupJson,
  CoverageThreadJson,
  StepKindsAnswer,
} from '../../api/index.ts';
import { coverageBand } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Drawing } from '../look/drawing.tsx';
import { Field, NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { Section } from '../look/parts.tsx';
import { KIND_WORDS, many, upper } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { ask } from '../server/ask.ts';
import { coverageQuery, heard } from '../server/queries.ts';

type Kinds = StepKindsAnswer['kinds'];

/** Which controls repeat which steps of the runs, woven; what that leaves open, and what would close it. */
export function Coverage({ study, kinds }: { study: string; kinds: Kinds }) {
  const { data } = useQuery(coverageQuery(study));
  const [setting, setSetting] = useState(false);
  if (!data || data.groups.length === 0) return null;
  const broken = data.groups.filter((group) => !group.judged);
  const groups = [...broken, ...data.groups.filter((group) => group.judged)];
  return (
    <Section
      title="Do the controls match?"
      lead="Each control is a thread across the steps of the runs. A run is judged only against controls whose thread is whole; a break, or a step that no thread crosses, lets particles in that the control never saw."
    >
      {groups.map((group) => (
        <Group key={group.runs[0]!.id} study={study} group={group} kinds={kinds} />
      ))}
      <p className="band-key">
        <span className="band-key-same">repeated</span>
        <span className="band-key-scaled">scaled</span>
        <span className="band-key-different">done otherwise</span>
        <span className="band-key-unknown">not recorded</span>
        <span className="band-key-missing">no such step</span>
      </p>
      <MethodLink name="coverage" />
      {setting ? (
        <Rules study={study} rules={data.rules} close={() => setSetting(false)} />
      ) : (
        <p className="fine">
          Minutes uncovered count as the same within {Math.round(100 * data.rules.uncovered_share)} % or{' '}
          {many(data.rules.uncovered_minutes, 'minute')}; a background is scaled up to{' '}
          {data.rules.scaled_up_to} times.{' '}
          {data.rules.because
            ? `Set in this study: ${data.rules.because} `
            : 'These are common practice, without a source. '}
          <button type="button" className="button quiet inline" onClick={() => setSetting(true)}>
            Change for this study
          </button>
        </p>
      )}
    </Section>
  );
}

function Group({ study, group, kinds }: { study: string; group: CoverageGroupJson; kinds: Kinds }) {
  const client = useQueryClient();
  const plan = useMutation({
    mutationFn: () => heard(ask('planClosingControl', { run: group.runs[0]!.id })),
    onSuccess: () => void client.invalidateQueries({ queryKey: ['study', study] }),
  });
  const draw = useCallback(
    (width: number) =>
      coverageBand({
        name: `band-${group.runs[0]!.id.slice(-6)}`,
        width,
        steps: group.steps.map(({ key, kind }) => (key === kind ? saidShort(kinds, kind) : key)),
        threads: group.threads.map((thread) => ({ control: threadName(thread), grades: thread.grades })),
      }),
    [group, kinds],
  );
  const open = [...new Set(group.open.map(({ explanation }) => explanation))];
  return (
    <article className={group.judged ? 'cover' : 'cover broken'}>
      <h3>
        {group.runs.map((run) => run.name).join(', ')}
        {group.specimen ? <small> {group.specimen}</small> : null}
      </h3>
      <p className={group.judged ? 'reading' : 'reading warned'}>{group.sentence}</p>
      {group.mend ? (
        <p className="section-deeds">
          <button
            type="button"
            className="button primary"
            disabled={plan.isPending || plan.isSuccess}
            onClick={() => plan.mutate()}
          >
            Plan this {KIND_WORDS[group.mend.kind]}
          </button>
          <a className="button" href={pathTo({ page: 'runs', study, item: null })}>
            Runs
          </a>
        </p>
      ) : null}
      {plan.data ? (
        <p role="status" className="reading">
          Planned as {plan.data.name}, with a procedure of its own that matches step by step: it stands under
          “Still to do”.
        </p>
      ) : null}
      {plan.error ? (
        <p role="alert" className="warned">
          {plan.error.message}
        </p>
      ) : null}
      <Drawing draw={draw} className="band" />
      <ul className="unseen">
        {group.threads.map((thread) => (
          <li key={threadName(thread)}>
            {threadName(thread)}: {thread.changes.length === 0 ? 'serves' : thread.changes.join(', ')}
          </li>
        ))}
      </ul>
      {group.threads.some((thread) => thread.serves && thread.scale > 1) ? (
        <p className="fine">
          {group.threads
            .filter((thread) => thread.serves && thread.scale > 1)
            .map((thread) => `${threadName(thread)} had less: its background is taken ${thread.scale} times.`)
            .join(' ')}
        </p>
      ) : null}
      {open.length > 0 ? (
        <details className="open-explanations">
          <summary>
            {many(open.length, 'explanation')} that no control of any kind tells apart: {open.join(', ')}
          </summary>
          <ul className="changes">
            {group.open.map(({ explanation, step, control }) => (
              <li key={`${explanation} ${step}`}>
                {upper(explanation)}, at “{step}”: {control} would tell.
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </article>
  );
}

const saidShort = (kinds: Kinds, kind: string): string => {
  const says = kinds.find((one) => one.kind === kind)?.says ?? kind;
  return says.length > 14 ? kind : says.toLowerCase();
};

function threadName({ controls, kind }: CoverageThreadJson): string {
  const names = controls.map((control) => control.name);
  const shown = names.length > 3 ? `${names.slice(0, 2).join(', ')} +${names.length - 2}` : names.join(', ');
  return shown || KIND_WORDS[kind];
}

function Rules({ study, rules, close }: { study: string; rules: ComparisonRulesJson; close: () => void }) {
  const client = useQueryClient();
  const [share, setShare] = useState(String(Math.round(100 * rules.uncovered_share)));
  const [open, setOpen] = useState(String(rules.uncovered_minutes));
  const [scaled, setScaled] = useState(String(rules.scaled_up_to));
  const [alike, setAlike] = useState(rules.alike.map((names) => names.join(' = ')).join('; '));
  const [because, setBecause] = useState(rules.because);
  const [own, setOwn] = useState<string | null>(null);
  const set = useMutation({
    mutationFn: (wish: ComparisonRulesJson) => heard(ask('setComparisonRules', { study }, wish)),
    onSuccess: () => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      close();
    },
  });
  const submit = () => {
    const [percent, minutes, factor] = [share, open, scaled].map(typedNumber);
    if (percent == null || minutes == null || factor == null) {
      return setOwn('Write the three tolerances in figures.');
    }
    setOwn(null);
    const lists = alike.split(';').map((list) => list.split('=').map((name) => name.trim()));
    set.mutate({
      uncovered_share: percent / 100,
      uncovered_minutes: minutes,
      scaled_up_to: factor,
      alike: lists.map((names) => names.filter((name) => name !== '')).filter((names) => names.length > 1),
      because,
    });
  };
  return (
    <Sheet
      title="How far apart is still the same"
      lead="Every run is compared anew at once; the rules before stay on record. A wide rule lets more controls serve and more doubt in."
      problem={own ?? set.error?.message ?? null}
      deed="Keep the rules"
      busy={set.isPending}
      onSubmit={submit}
      onClose={close}
    >
      <NumberField label="Minutes uncovered: share" unit="%" value={share} set={setShare} />
      <NumberField label="or so many minutes" unit="min" value={open} set={setOpen} />
      <NumberField label="Scaled up to" unit="times" value={scaled} set={setScaled} />
      <Field
        wide
        label="Names that mean one thing"
        value={alike}
        set={setAlike}
        placeholder="bench A = bench B; beaker 3 = beaker 4"
        hint="With = between names and ; between lists."
      />
      <Field wide label="Why" value={because} set={setBecause} />
    </Sheet>
  );
}
