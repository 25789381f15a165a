import type { HeldBack } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { Icon } from '../look/icons.tsx';
import { unbroken } from '../look/words.ts';

/** Where a thing that holds the claim back is mended: the photo, the filter, the run, or the place. */
export function mendPath(study: string, held: HeldBack): string {
  if (held.photo !== null && held.filter !== null) {
    return pathTo({ page: 'photo', study, filter: held.filter, photo: held.photo });
  }
  if (held.filter !== null) return pathTo({ page: 'filters', study, item: held.filter });
  return pathTo({ page: held.place, study, item: held.place === 'runs' ? held.run : null });
}

const GO_WORDS: { readonly [P in HeldBack['place']]: string } = {
  question: 'Sharpen the question',
  procedure: 'Open the procedure',
  runs: 'Go to the run',
  filters: 'Look at the filter',
  evidence: 'See the evidence',
  claim: 'See the claim',
};

/** What would move a claim that nothing holds back: the engine's next steps, the first one at the top. */
export function WouldMove({ study, steps }: { study: string; steps: readonly string[] }) {
  if (steps.length === 0) return <HoldsBack study={study} held={[]} />;
  return (
    <>
      <ol className="holds">
        {steps.map((step) => (
          <li key={step}>
            <p>{unbroken(step)}</p>
          </li>
        ))}
      </ol>
      <a className="button" href={pathTo({ page: 'evidence', study, item: null })}>
        See the evidence
        <Icon name="next" size={18} />
      </a>
    </>
  );
}

/** What holds the claim back, the weightiest first, each one click from where it is mended. */
export function HoldsBack({ study, held }: { study: string; held: readonly HeldBack[] }) {
  if (held.length === 0) {
    return (
      <p className="nothing-holds">
        <Icon name="keep" /> Nothing on record holds this claim back.
      </p>
    );
  }
  return (
    <ol className="holds">
      {held.map((one) => (
        <li key={`${one.why}-${one.run}-${one.filter}-${one.photo}`}>
          <p>{unbroken(one.message)}</p>
          <a className="button" href={mendPath(study, one)}>
            {one.photo !== null ? 'Look at the photograph' : GO_WORDS[one.place]}
            <Icon name="next" size={18} />
          </a>
        </li>
      ))}
    </ol>
  );
}
