import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { SearchJson } from '../../api/index.ts';
import { figure, ownRateWords } from '../../report/index.ts';
import { NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { Section } from '../look/parts.tsx';
import { lengthWords, many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard, searchQuery } from '../server/queries.ts';
import { OwnControls } from './own-controls.tsx';

/** How photographs are searched: the one main setting in plain words, the smallest size, and searching anew. */
export function Searching({ study }: { study: string }) {
  const client = useQueryClient();
  const query = searchQuery(study);
  const { data } = useQuery(query);
  const [changing, setChanging] = useState(false);
  const anew = useMutation({
    mutationFn: () => heard(ask('searchAnew', { study })),
    onSuccess: (answer) => client.setQueryData(query.queryKey, answer),
  });
  if (!data) return null;
  const { false_finds_per_blank, smallest_um, said, own, otherwise, in_use } = data;
  return (
    <Section
      title="How photographs are searched"
      lead="Fewer false finds cost small and faint pieces; more of them cost your time."
    >
      <p>
        On a photograph of an empty filter, about {figure(false_finds_per_blank)} false{' '}
        {false_finds_per_blank === 1 ? 'find is' : 'finds are'}{' '}
        {own ? `asked for, which gave ${ownRateWords(own)} on your own controls` : 'accepted'};{' '}
        {smallest_um === null
          ? 'pieces are looked for as small as the optics allow.'
          : `pieces are looked for from ${lengthWords(smallest_um)} up.`}
        {said ? ` ${said.by} said so on ${said.at.slice(0, 10)}.` : ''}
      </p>
      {changing ? (
        <Settings study={study} now={data} close={() => setChanging(false)} />
      ) : (
        <p className="section-deeds">
          <button type="button" className="button" onClick={() => setChanging(true)}>
            Change how they are searched
          </button>
        </p>
      )}
      {otherwise > 0 ? (
        <div className="together">
          <p>
            {many(otherwise, 'photograph')} {otherwise === 1 ? 'was' : 'were'} searched otherwise, by earlier
            settings or an earlier method. Searched anew, decisions go over to the same pieces; what was found
            before stays on record.
          </p>
          <button
            type="button"
            className="button quiet"
            disabled={anew.isPending}
            onClick={() => anew.mutate()}
          >
            Search {otherwise === 1 ? 'it' : 'them'} anew
          </button>
        </div>
      ) : null}
      {in_use > 0 ? (
        <p className="fine">
          {many(in_use, 'further photograph')} {in_use === 1 ? 'stays' : 'stay'} as searched before: tests,
          drills or rounds name pieces found on {in_use === 1 ? 'it' : 'them'}.
        </p>
      ) : null}
      {anew.error ? (
        <p className="warned" role="alert">
          {anew.error.message}
        </p>
      ) : null}
      <OwnControls study={study} now={data} />
    </Section>
  );
}

function Settings({ study, now, close }: { study: string; now: SearchJson; close: () => void }) {
  const client = useQueryClient();
  const [falseFinds, setFalseFinds] = useState(figure(now.false_finds_per_blank));
  const [smallest, setSmallest] = useState(now.smallest_um === null ? '' : figure(now.smallest_um));
  const [problem, setProblem] = useState<string | null>(null);
  const keep = useMutation({
    mutationFn: (wish: { false_finds_per_blank: number; smallest_um: number | null }) =>
      heard(ask('setSearch', { study }, wish)),
    onSuccess: (answer) => {
      client.setQueryData(searchQuery(study).queryKey, answer);
      close();
    },
    onError: (error) => setProblem(error.message),
  });
  return (
    <Sheet
      title="How photographs are searched"
      problem={problem}
      deed="Search so from now on"
      busy={keep.isPending}
      onClose={close}
      onSubmit={() => {
        setProblem(null);
        const wanted = typedNumber(falseFinds);
        const size = smallest.trim() === '' ? null : typedNumber(smallest);
        if (wanted === null || wanted < 0.01 || wanted > 50) {
          setProblem('False finds accepted: a number from 0.01 to 50 is needed.');
        } else if (smallest.trim() !== '' && (size === null || size < 1 || size > 5000)) {
          setProblem('Smallest size: a number from 1 to 5000 µm is needed, or nothing.');
        } else keep.mutate({ false_finds_per_blank: wanted, smallest_um: size });
      }}
    >
      <NumberField
        label="False finds accepted on a photograph of an empty filter"
        value={falseFinds}
        set={setFalseFinds}
        hint="0.5 is usual: a piece kept too many and a piece lost weigh about the same."
      />
      <NumberField
        label="Smallest size to look for"
        value={smallest}
        set={setSmallest}
        unit="µm"
        hint="Longest Feret diameter. Left empty: as small as the optics allow."
      />
    </Sheet>
  );
}
