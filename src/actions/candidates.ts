/** All particles of a study that a count may rest on, with the run and the side that they belong to. */
import {
  BACKGROUND_KINDS,
  type FindingRecord,
  type Measure,
  type Measured,
  type Photo,
  type PhotoId,
  type Run,
  type Side,
  type Study,
} from '../study/index.ts';
import type { Look } from './ports.ts';

/** What decides whether a piece is in the question's scope. */
const SCOPED_BY = ['standing', 'countsOn', 'feretMaxUm', 'shapeNow', 'colourNow'] as const;

export interface Candidate<M extends Measure> {
  readonly particle: Measured<M | (typeof SCOPED_BY)[number]>;
  readonly photo: PhotoId;
  readonly run: Run;
  /** Null: neither a specimen run nor a control that gives background. */
  readonly side: Side | null;
  readonly umPerPx: number | null;
}

export const sideOf = (run: Run): Side | null =>
  run.kind === 'specimen'
    ? 'specimens'
    : (BACKGROUND_KINDS as readonly string[]).includes(run.kind)
      ? 'controls'
      : null;

/** The study's photos, each as last found; null: not searched. */
export async function photosOf(
  look: Look,
  study: Study,
): Promise<readonly { readonly photo: Photo; readonly finding: FindingRecord | null }[]> {
  const newest = new Map<PhotoId, FindingRecord>(
    (await look.findings.newestOfStudy(study.id)).map((finding) => [finding.photo, finding]),
  );
  return (await look.photos.ofStudy(study.id)).map((photo) => ({
    photo,
    finding: newest.get(photo.id) ?? null,
  }));
}

/** Those in the question's scope, with these measures; dropped ones too, since dropping is what is to be checked. */
export async function candidatesOf<M extends Measure>(
  look: Look,
  study: Study,
  measures: readonly M[],
): Promise<readonly Candidate<M>[]> {
  const { question } = study;
  const runs = new Map((await look.runs.ofStudy(study.id)).map((run) => [run.id, run]));
  const filters = new Map((await look.filters.ofStudy(study.id)).map((filter) => [filter.id, filter]));
  const shown = (await photosOf(look, study)).flatMap(({ photo, finding }) => {
    const filter = filters.get(photo.filter);
    const run = filter && runs.get(filter.run);
    return run && finding && finding.refusal === null ? [{ photo: photo.id, finding, run }] : [];
  });
  const particles = await look.particles.measured<M | (typeof SCOPED_BY)[number]>(
    shown.map(({ finding }) => finding.id),
    [...SCOPED_BY, ...measures],
  );
  const out: Candidate<M>[] = [];
  for (const { photo, finding, run } of shown) {
    const umPerPx = finding.scale?.umPerPx ?? null;
    const side = sideOf(run);
    for (const particle of particles.get(finding.id)!) {
      const size = particle.feretMaxUm;
      const inScope =
        particle.standing !== 'replaced' &&
        particle.countsOn === null &&
        size !== null &&
        size >= question.sizeFromUm &&
        (question.sizeToUm === null || size < question.sizeToUm) &&
        (question.shapes.length === 0 || question.shapes.includes(particle.shapeNow)) &&
        (question.colours.length === 0 || question.colours.includes(particle.colourNow));
      if (inScope) out.push({ particle, photo, run, side, umPerPx });
    }
  }
  return out;
}
