/** All particles of a study that a count may rest on, with the run and the side that they belong to. */
import { BACKGROUND_KINDS, type ParticleRecord, type Run, type Side, type Study } from '../study/index.ts';
import type { Look } from './ports.ts';

export interface Candidate {
  readonly particle: ParticleRecord;
  readonly run: Run;
  /** Null: neither a specimen run nor a control that gives background. */
  readonly side: Side | null;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly umPerPx: number | null;
}

export const sideOf = (run: Run): Side | null =>
  run.kind === 'specimen'
    ? 'specimens'
    : (BACKGROUND_KINDS as readonly string[]).includes(run.kind)
      ? 'controls'
      : null;

/** Those in the question's scope; dropped ones too, since dropping is what is to be checked. */
export async function candidatesOf(look: Look, study: Study): Promise<readonly Candidate[]> {
  const { question } = study;
  const runs = new Map((await look.runs.ofStudy(study.id)).map((run) => [run.id, run]));
  const filters = new Map((await look.filters.ofStudy(study.id)).map((filter) => [filter.id, filter]));
  const out: Candidate[] = [];
  for (const line of await look.photos.linesOfStudy(study.id)) {
    const filter = filters.get(line.filter);
    const run = filter && runs.get(filter.run);
    if (!run || line.finding === null || line.refusal !== null) continue;
    const finding = await look.findings.get(line.finding);
    const side = sideOf(run);
    for (const particle of await look.particles.ofFinding(line.finding)) {
      const size = particle.feretMaxUm;
      const inScope =
        particle.standing !== 'replaced' &&
        particle.countsOn === null &&
        size !== null &&
        size >= question.sizeFromUm &&
        (question.sizeToUm === null || size < question.sizeToUm) &&
        (question.shapes.length === 0 || question.shapes.includes(particle.shapeNow)) &&
        (question.colours.length === 0 || question.colours.includes(particle.colourNow));
      if (!inScope) continue;
      out.push({
        particle,
        run,
        side,
        widthPx: line.widthPx,
        heightPx: line.heightPx,
        umPerPx: finding?.scale?.umPerPx ?? null,
      });
    }
  }
  return out;
}
