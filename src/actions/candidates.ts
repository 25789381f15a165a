/** All particles of a study that a count may rest on, with the run and the side that they belong to. */
import {
  BACKGROUND_KINDS,
  type FindingId,
  type MeasuredParticle,
  type Run,
  type Side,
  type Study,
} from '../study/index.ts';
import type { Look } from './ports.ts';

export interface Candidate {
  readonly particle: MeasuredParticle;
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
  const lines = (await look.photos.linesOfStudy(study.id)).flatMap((line) => {
    const filter = filters.get(line.filter);
    const run = filter && runs.get(filter.run);
    return run && line.finding !== null && line.refusal === null
      ? [{ ...line, finding: line.finding, run }]
      : [];
  });
  const particles = new Map<FindingId, MeasuredParticle[]>(lines.map(({ finding }) => [finding, []]));
  for (const particle of await look.particles.measured([...particles.keys()]))
    particles.get(particle.finding)!.push(particle);
  const out: Candidate[] = [];
  for (const { run, widthPx, heightPx, finding } of lines) {
    const scale = (await look.findings.get(finding))?.scale ?? null;
    const side = sideOf(run);
    for (const particle of particles.get(finding)!) {
      const size = particle.feretMaxUm;
      const inScope =
        particle.standing !== 'replaced' &&
        particle.countsOn === null &&
        size !== null &&
        size >= question.sizeFromUm &&
        (question.sizeToUm === null || size < question.sizeToUm) &&
        (question.shapes.length === 0 || question.shapes.includes(particle.shapeNow)) &&
        (question.colours.length === 0 || question.colours.includes(particle.colourNow));
      if (inScope) out.push({ particle, run, side, widthPx, heightPx, umPerPx: scale?.umPerPx ?? null });
    }
  }
  return out;
}
