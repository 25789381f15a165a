import { gapSentence, mendSentence } from '../../study/index.ts';
import { Icon } from '../look/icons.tsx';
import type { Bench } from './use-bench.ts';

/** Whether a control still matches the run as it was done up to now, and the cheapest that would mend it. */
export function CoverageNow({ bench }: { bench: Bench }) {
  const { sheet, here } = bench;
  const { covered } = here;
  if (sheet.run.kind !== 'specimen-run') {
    return <p>This is a control: runs on the product are compared with what was done here.</p>;
  }
  if (covered === null) {
    return (
      <p className="warned">
        No control is entered yet: nothing can tell what the work itself brings. Enter one that goes the same
        way.
      </p>
    );
  }
  const { serving } = covered.background;
  const names = covered.controls
    .filter(({ runs }) => runs.some((run) => serving.some((one) => one.control === run)))
    .map(({ name }) => name);
  const open = covered.gaps.filter((gap) => gap.grade !== 'unknown');
  return (
    <div className={`coverage-now ${names.length > 0 ? 'is-matched' : 'is-open'}`} role="status">
      {names.length > 0 ? (
        <p>
          <Icon name="keep" size={20} /> Still matched by {names.join(', ')}.
        </p>
      ) : (
        <p>
          <Icon name="warn" size={20} /> {mendSentence(sheet.run.name, covered.background)}
        </p>
      )}
      {open.length > 0 ? (
        <details>
          <summary>What stays open ({open.length})</summary>
          <ul>
            {open.map((gap) => (
              <li key={`${gap.step.key} ${gap.attribute} ${gap.cause}`}>
                {gapSentence(sheet.run.name, gap, covered.background)}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </div>
  );
}
