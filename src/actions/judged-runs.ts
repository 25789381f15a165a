/** Which runs the claims of a study rest on: only their pieces are worth a test or a second look. */
import type { RunId } from '../study/index.ts';
import type { CountedStudy } from './count-runs.ts';
import { standingFrom } from './standing.ts';

/**
 * Specimen runs that a control matches, and the controls that give them their background. Where nothing can be judged yet,
 * null: then every run may still come in.
 */
export function judgedRuns(counted: CountedStudy): ReadonlySet<RunId> | null {
  const judged = new Set<RunId>();
  for (const { specimen, input } of standingFrom(counted).specimens) {
    if (input.serving.length === 0) continue;
    for (const id of input.serving) judged.add(id);
    for (const { run, specimen: own } of counted.runs)
      if (run.kind === 'specimen' && own?.id === specimen.id && !input.leftOut.includes(run.id))
        judged.add(run.id);
  }
  return judged.size > 0 ? judged : null;
}
