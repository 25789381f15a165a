import { useState } from 'react';
import { figure } from '../../report/index.ts';
import { BalancePicture } from '../runs/balance-picture.tsx';
import { CoverageNow } from './coverage-now.tsx';
import { FractionForm } from './fraction-form.tsx';
import { SetupPhotos } from './setup-photos.tsx';
import type { Bench } from './use-bench.ts';

/** Beneath the steps: the comparison, minutes uncovered, where the liquid went, and the end of the run. */
export function RunFoot({ bench, allDone }: { study: string; bench: Bench; allDone: boolean }) {
  const { here } = bench;
  const { uncovered, fell } = here;
  const left = here.sheet.steps
    .filter((line) => line.otherwise !== 'left-out' && line.state !== 'done')
    .map((line) => `“${line.step.key}”`);
  const [adding, setAdding] = useState<'nothing' | 'part' | 'note'>('nothing');
  return (
    <>
      <section className="bench-part" aria-label="Comparison with controls">
        <h2>Against its controls</h2>
        <CoverageNow bench={bench} />
      </section>
      <section className="bench-part" aria-label="Minutes uncovered">
        <h2>Uncovered</h2>
        <p>
          <strong>{figure(Math.round(uncovered.minutes * 10) / 10)} min</strong>
          {uncovered.measuredMin > 0
            ? ` (${figure(Math.round(uncovered.measuredMin * 10) / 10)} measured)`
            : ' as planned'}
          {uncovered.notSaid.length > 0 ? `; not recorded for: ${uncovered.notSaid.join(', ')}` : ''}.
        </p>
        <p>
          {fell.ok
            ? `From the air ${figure(Number(fell.value.expected.toPrecision(2)))} particles are expected in that time into an opening as large as the dish (${figure(Number(fell.value.lower.toPrecision(2)))} to ${figure(Number(fell.value.upper.toPrecision(2)))}, ${Math.round(100 * fell.value.confidence)} %), by ${fell.value.dishes.join(', ')}.`
            : fell.refusal.message}
        </p>
      </section>
      <section className="bench-part" aria-label="Where the liquid went">
        <h2>Where the liquid went</h2>
        <BalancePicture balance={here.balance} name="bench-balance" />
        <p>{here.balance.sentence}</p>
        {here.fractions
          .filter((one) => one.fate === 'kept')
          .map((one) => (
            <p key={one.id}>
              {figure(one.volume_ml)} mL {one.kind} kept: <strong>{one.place}</strong>
            </p>
          ))}
        {adding === 'part' ? (
          <FractionForm bench={bench} onClose={() => setAdding('nothing')} />
        ) : (
          <button type="button" className="button" onClick={() => setAdding('part')}>
            Say where a part went
          </button>
        )}
      </section>
      <section className="bench-part" aria-label="Notes and pictures">
        <h2>Notes</h2>
        {[...here.sheet.notes, ...here.sheet.steps.flatMap((line) => line.notes)].map((note) => (
          <p key={note}>{note}</p>
        ))}
        {adding === 'note' ? (
          <NoteForm bench={bench} onClose={() => setAdding('nothing')} />
        ) : (
          <button type="button" className="button" onClick={() => setAdding('note')}>
            Write a note
          </button>
        )}
        <SetupPhotos bench={bench} step={null} />
      </section>
      {here.sheet.state === 'under-way' && left.length > 0 ? (
        <p className="bench-left">
          Not tapped yet: {left.join(', ')}. A step that was done without a tap counts as its procedure says;
          one that was not done is said under “Otherwise”.
        </p>
      ) : null}
      {here.sheet.state === 'under-way' ? (
        <button
          type="button"
          className={`button huge ${allDone ? 'primary' : ''}`}
          onClick={() => bench.deed({ do: 'end' })}
        >
          End the run
        </button>
      ) : here.sheet.state === 'done' ? (
        <p className="bench-ended" role="status">
          The run is done. Photograph its filter next; until then it is not looked, which is not none.
        </p>
      ) : null}
    </>
  );
}

function NoteForm({ bench, onClose }: { bench: Bench; onClose: () => void }) {
  const [text, setText] = useState('');
  return (
    <form
      className="bench-form"
      aria-label="Note"
      onSubmit={(event) => {
        event.preventDefault();
        if (text.trim() !== '') bench.deed({ do: 'note', step: null, text: text.trim() });
        onClose();
      }}
    >
      <div className="field">
        <label htmlFor="bench-note">Note</label>
        <textarea
          id="bench-note"
          rows={3}
          value={text}
          onChange={(event) => setText(event.currentTarget.value)}
        />
      </div>
      <div className="bench-deeds">
        <button type="submit" className="button primary huge">
          Keep it
        </button>
      </div>
    </form>
  );
}
