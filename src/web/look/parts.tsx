import type { ReactNode } from 'react';
import { Declined } from '../server/ask.ts';
import { Icon, type IconName } from './icons.tsx';
import { upper } from './words.ts';

/** The head of a place: its name, one sentence on what it is for, and what can be done here. */
export function PlaceHead({
  title,
  lead,
  children,
}: {
  title: string;
  lead: ReactNode;
  children?: ReactNode;
}) {
  return (
    <header className="place-head">
      <div>
        <h1>{title}</h1>
        <p className="lead">{lead}</p>
      </div>
      {children ? <div className="place-deeds">{children}</div> : null}
    </header>
  );
}

export function Section({
  title,
  lead,
  children,
  id,
}: {
  title: string;
  lead?: ReactNode;
  children: ReactNode;
  id?: string;
}) {
  return (
    <section className="section" id={id} aria-label={title}>
      <h2>{title}</h2>
      {lead ? <p className="section-lead">{lead}</p> : null}
      {children}
    </section>
  );
}

/** Nothing here yet: says what belongs here, why it matters, and how to begin. */
export function Nothing({ icon, title, children }: { icon: IconName; title: string; children: ReactNode }) {
  return (
    <div className="nothing">
      <Icon name={icon} size={40} />
      <div>
        <h2>{title}</h2>
        {children}
      </div>
    </div>
  );
}

export function Waiting({ what }: { what: string }) {
  return (
    <p className="waiting" role="status">
      Reading {what} …
    </p>
  );
}

/** Stands where something is not known yet: it is being read, or could not be; neither is the same as none. */
export function NotYet({
  query,
  what,
}: {
  query: { readonly error: Error | null; readonly refetch: () => unknown };
  what: string;
}) {
  return query.error ? (
    <p className="not-read" role="alert">
      {upper(what)} could not be read:{' '}
      {query.error instanceof Declined ? query.error.message : 'the laboratory’s program does not answer.'}{' '}
      <button type="button" className="button" onClick={() => void query.refetch()}>
        Ask again
      </button>
    </p>
  ) : (
    <Waiting what={what} />
  );
}

/** A request that failed, in the sentence the server gave. */
export function Failed({ error, again }: { error: Error; again: () => void }) {
  return (
    <div className="failed" role="alert">
      <h1>This cannot be shown</h1>
      <p>
        {error instanceof Declined
          ? error.message
          : 'The laboratory’s program does not answer. It is asked again by itself; you can also start it with “npm start”.'}
      </p>
      <p>
        <button type="button" className="button" onClick={again}>
          Ask again
        </button>{' '}
        {error instanceof Declined && error.why === 'not-paired' ? (
          <a className="button primary" href="/pair">
            Pair this telephone
          </a>
        ) : (
          <a className="button quiet" href="/">
            All studies
          </a>
        )}
      </p>
    </div>
  );
}

/** A definition in a row of facts: the name small, the value large, what qualifies it beneath. */
export function Fact({ name, value, note }: { name: string; value: ReactNode; note?: ReactNode }) {
  return (
    <div className="fact">
      <dt>{name}</dt>
      <dd>
        <span className="fact-value">{value}</span>
        {note ? <span className="fact-note">{note}</span> : null}
      </dd>
    </div>
  );
}
