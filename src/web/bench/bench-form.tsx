import type { ReactNode } from 'react';

/** A form at the bench: its fields, what is wrong with them, and two large ways out. */
export function BenchForm({
  label,
  keep,
  problem,
  onKeep,
  onLeave,
  children,
}: {
  label: string;
  /** The word on the button that records it. */
  keep: string;
  problem: string | null;
  onKeep: () => void;
  onLeave: () => void;
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
        <button type="button" className="button huge" onClick={onLeave}>
          Leave it
        </button>
      </div>
    </form>
  );
}
