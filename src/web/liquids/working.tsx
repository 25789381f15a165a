import type { ReactNode } from 'react';
import { SAFETY_FIRST } from '../../study/index.ts';

/** Inputs on one side, what follows from them on the other. */
export function Working({ inputs, children }: { inputs: ReactNode; children: ReactNode }) {
  return (
    <div className="working">
      <div className="working-inputs">{inputs}</div>
      <div className="working-answer" aria-live="polite">
        {children}
      </div>
    </div>
  );
}

/** What cannot be taken, in one sentence. */
export const Trouble = ({ children }: { children: ReactNode }) => (
  <p className="sheet-problem" role="status">
    {children}
  </p>
);

export const Cautions = ({ of }: { of: readonly string[] }) => (
  <section className="cautions" aria-label="Take care">
    <h3>Take care</h3>
    <ul>
      {of.map((one) => (
        <li key={one}>{one}</li>
      ))}
      {of.includes(SAFETY_FIRST) ? null : <li>{SAFETY_FIRST}</li>}
    </ul>
  </section>
);

/** 45 s, 12 min, 3.5 h, 4 days. */
export function duration(seconds: number): string {
  const short = (n: number) => String(Number(n.toPrecision(n >= 100 ? 3 : 2)));
  if (seconds < 100) return `${short(seconds)} s`;
  if (seconds < 100 * 60) return `${short(seconds / 60)} min`;
  if (seconds < 72 * 3600) return `${short(seconds / 3600)} h`;
  return seconds > 365 * 86_400 ? 'over a year' : `${short(seconds / 86_400)} days`;
}
