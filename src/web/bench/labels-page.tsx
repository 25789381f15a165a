import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { LabelJson } from '../../api/index.ts';
import { SAFETY_FIRST } from '../../study/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Nothing, PlaceHead, Waiting } from '../look/parts.tsx';
import { labelsQuery } from '../server/queries.ts';
import { QrSquare } from './qr-square.tsx';

const WHAT_WORDS: { readonly [W in LabelJson['what']]: string } = {
  run: 'Runs',
  vessel: 'Vessels',
  filter: 'Filters',
  remainder: 'Kept remainders',
  specimen: 'Specimens',
};
const KINDS = Object.keys(WHAT_WORDS) as LabelJson['what'][];

/** Labels to print and stick on: name, short code, and the code as a square that a telephone reads. */
export function LabelsPage({ study }: { study: string }) {
  const { data, error, refetch } = useQuery(labelsQuery(study));
  const [chosen, setChosen] = useState<ReadonlySet<LabelJson['what']>>(
    new Set(['run', 'filter', 'remainder']),
  );
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the labels" />;
  const labels = data.labels.filter((label) => chosen.has(label.what));
  const many = (what: LabelJson['what']) => data.labels.filter((label) => label.what === what).length;
  return (
    <div className="page labels-page">
      <p className="back">
        <a href={pathTo({ page: 'runs', study, item: null })}>
          <Icon name="back" size={20} /> All runs
        </a>
      </p>
      <PlaceHead
        title="Labels"
        lead="Every bottle, dish and kept remainder gets a code that opens its record again: read by a telephone, or typed on the place Runs."
      >
        <button type="button" className="button primary" onClick={() => print()}>
          Print them
        </button>
      </PlaceHead>
      <p className="fine">{SAFETY_FIRST}</p>
      <fieldset className="label-kinds">
        <legend>Print labels of</legend>
        {KINDS.map((what) => (
          <label key={what}>
            <input
              type="checkbox"
              checked={chosen.has(what)}
              onChange={(event) => {
                const next = new Set(chosen);
                if (event.currentTarget.checked) next.add(what);
                else next.delete(what);
                setChosen(next);
              }}
            />{' '}
            {WHAT_WORDS[what]} ({many(what)})
          </label>
        ))}
      </fieldset>
      {labels.length === 0 ? (
        <Nothing icon="runs" title="Nothing to label">
          <p>Enter runs and filters first, or choose more kinds above.</p>
        </Nothing>
      ) : (
        <ul className="labels">
          {labels.map((label) => (
            <li key={`${label.code} ${label.name}`} className="label">
              <QrSquare code={label.code} />
              <div>
                <strong>{label.name}</strong>
                <span className="label-code">{label.code}</span>
                {label.lines.map((line) => (
                  <small key={line}>{line}</small>
                ))}
              </div>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
