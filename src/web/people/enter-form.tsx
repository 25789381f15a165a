import type { FormEvent, ReactNode } from 'react';

/** A form of few fields and one deed: the way in, a code, a password. */
export function EnterForm({
  deed,
  work,
  children,
  after,
}: {
  deed: string;
  work: { readonly isPending: boolean; readonly error: Error | null; mutate: () => void };
  children: ReactNode;
  /** What is said when it is done. */
  after?: ReactNode;
}) {
  const submit = (event: FormEvent) => {
    event.preventDefault();
    work.mutate();
  };
  return (
    <form className="enter" onSubmit={submit}>
      {children}
      <button type="submit" className="button primary" disabled={work.isPending}>
        {deed}
      </button>
      {after}
      {work.error ? <p role="alert">{work.error.message}</p> : null}
    </form>
  );
}
