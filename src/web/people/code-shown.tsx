import type { ReactNode } from 'react';

/** A code that is shown this once, and what to do with it. */
export function CodeShown({
  made,
  children,
}: {
  made: { readonly code: string; readonly ends_at: string };
  children: ReactNode;
}) {
  return (
    <p role="status" className="code-shown">
      {children} Until {made.ends_at.slice(0, 10)}: <code className="code">{made.code}</code>
    </p>
  );
}
