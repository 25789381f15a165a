import type { ReactNode } from 'react';

/** A form at the bench: its fields, what is wrong with them, and two large ways out. */
export function BenchForm({
  label,
  keep,
  leave = 'Leave it',
  problem,
  onKeep,
  onLeave,
  children,
}: {
  label: string;
  /** The word on the button that records it. */
  keep: string;
  leave?: string;
  problem: string | null;
  onKeep: () => void;
  /** Undefined: there is nothing to go back to. */
  onLeave: (() => void) | undefined;
  children: ReactNode;
}) {
  return (
    <form
      className="bench-form"
      aria-label={label}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        onKeep();
      }}
    >
      <div className="fields">{children}</div>
      {problem ? (
        <p className="sheet-problem" role="alert">
          {problem}
        </p>
      ) : null}
      <div className="bench-deeds">
        <button type="submit" className="button primary huge">
          {keep}
        </button>
        {onLeave ? (
          <button type="button" className="button huge" onClick={onLeave}>
            {leave}
          </button>
        ) : null}
      </div>
    </form>
  );
}
