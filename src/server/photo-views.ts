/** Filters, photos and their particles as they travel. */
import {
  type CountedRun,
  type CountedStudy,
  countedSizes,
  countStudy,
  type Look,
  type PhotoLine,
  STOPPED,
  studyOfFilter,
} from '../actions/index.ts';
import {
  type FilterJson,
  type MarkedParticleJson,
  type ParticlesAnswer,
  type PhotoJson,
  particleJson,
  scaleJson,
  tilesOf,
} from '../api/index.ts';
import {
  disagreements,
  type Filter,
  type FindingRecord,
  type Id,
  type Mark,
  type ParticleRecord,
  type Photo,
  type Study,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import type { PhotoQueue } from './photo-queue.ts';
import type { Served } from './served.ts';
import { countJson, runKind } from './study-views.ts';

const missing = (what: string, id: string) =>
  refused({
    why: `no-such-${what}`,
    message: `There is no ${what} ${id} in this laboratory; read the list anew.`,
  });

const asId = <K extends string>(id: string): Id<K> => id as Id<K>;

export function photoJson(line: PhotoLine, finding: FindingRecord | null, queue: PhotoQueue): PhotoJson {
  const under = queue.state(line.id);
  const said = queue.refusal(line.id);
  const stopped = said?.why === STOPPED.why;
  const trouble = (stopped ? null : said) ?? finding?.refusal ?? null;
  const searched = finding !== null && finding.refusal === null;
  const { scale } = finding ?? { scale: null };
  return {
    id: line.id,
    filter: line.filter,
    name: line.name,
    sha256: line.sha256,
    width_px: line.widthPx,
    height_px: line.heightPx,
    added_at: line.at,
    state:
      under ??
      (finding
        ? searched || line.particles > 0
          ? 'searched'
          : 'refused'
        : stopped
          ? 'stopped'
          : trouble
            ? 'refused'
            : 'waiting'),
    refusal: trouble && { why: trouble.why, message: trouble.message },
    warnings: (finding?.warnings ?? []).map(({ why, message }) => ({ why, message })),
    scale: scale && scaleJson(scale),
    floor_um: finding && scale ? Math.round(finding.floorPx * scale.umPerPx * 10) / 10 : null,
    searched_fraction: finding?.searchedFraction ?? null,
    // Not looked is never zero: without a finding there is no number.
    particles: finding ? line.particles : null,
    kept: finding ? line.kept : null,
    undecided: finding ? line.unmarked : null,
    tiles: tilesOf(line.widthPx, line.heightPx),
  };
}

/** Photos of some filters, each with its newest finding. */
async function photosOf(
  look: Look,
  study: Study,
  queue: PhotoQueue,
): Promise<ReadonlyMap<string, PhotoJson[]>> {
  const groups = new Map<string, PhotoJson[]>();
  for (const line of await look.photos.linesOfStudy(study.id)) {
    const finding = line.finding === null ? null : await look.findings.get(line.finding);
    const group = groups.get(line.filter) ?? [];
    group.push(photoJson(line, finding, queue));
    groups.set(line.filter, group);
  }
  return groups;
}

function filterJson(
  filter: Filter,
  run: CountedRun,
  counted: CountedStudy,
  photos: readonly PhotoJson[],
  together: FilterJson['together'],
): FilterJson {
  const seen = counted.filterCounts.get(filter.id);
  const disc = (Math.PI / 4) * filter.effectiveDiameterMm ** 2;
  const examined = filter.examinedStated ?? Math.min(1, (seen?.searchedMm2 ?? 0) / disc);
  return {
    id: filter.id,
    name: filter.name,
    run: { id: run.run.id, name: run.run.name, kind: runKind(run.run.kind) },
    material: filter.material,
    pore_um: filter.poreUm,
    effective_diameter_mm: filter.effectiveDiameterMm,
    pitch_mm: filter.pitchMm,
    lot: filter.lot === '' ? null : filter.lot,
    examined: seen && seen.searched > 0 ? examined : 0,
    count: countJson({ count: seen?.count ?? null, unmarked: seen?.unmarked ?? 0 }),
    scope: {
      from_um: counted.sizeFromUm,
      to_um: counted.study.question.sizeToUm,
      some: counted.study.question.shapes.length + counted.study.question.colours.length > 0,
    },
    together,
    photos: [...photos],
  };
}

/** Which photos of each filter of a study overlap, and what somebody has said of it. */
async function togetherOf(
  look: Look,
  { study, filterCounts }: CountedStudy,
): Promise<ReadonlyMap<string, FilterJson['together']>> {
  const people = new Map((await look.people.list()).map((person) => [person.id, person.name]));
  const out = new Map<string, FilterJson['together']>();
  for (const { filter, placed, apart, by } of await look.joinings.ofStudy(study.id)) {
    if (placed.length === 0 && !apart) continue;
    const photos = new Set<string>();
    for (const id of placed) {
      const finding = await look.findings.get(id);
      if (finding) photos.add(finding.photo);
    }
    out.set(filter, {
      photos: [...photos],
      seen_again: filterCounts.get(filter)?.again ?? 0,
      apart,
      by: by === null ? null : (people.get(by) ?? null),
    });
  }
  return out;
}

export const filtersView = (
  { records }: Served,
  queue: PhotoQueue,
  studyId: string,
): Promise<Outcome<readonly FilterJson[]>> =>
  records.look(async (look) => {
    const study = await look.studies.get(asId(studyId));
    if (!study) return missing('study', studyId);
    const counted = await countStudy(look, study);
    const photos = await photosOf(look, study, queue);
    const together = await togetherOf(look, counted);
    return done(
      counted.runs.flatMap((run) =>
        run.filters.map((filter) =>
          filterJson(filter, run, counted, photos.get(filter.id) ?? [], together.get(filter.id) ?? null),
        ),
      ),
    );
  });

export const filterView = async (
  served: Served,
  queue: PhotoQueue,
  id: string,
): Promise<Outcome<FilterJson>> => {
  const study = await served.records.look(async (look) => {
    const filter = await look.filters.get(asId(id));
    return filter && studyOfFilter(look, filter);
  });
  if (!study) return missing('filter', id);
  const all = await filtersView(served, queue, study.id);
  if (!all.ok) return all;
  const mine = all.value.find((filter) => filter.id === id);
  return mine ? done(mine) : missing('filter', id);
};

export interface PhotoAtHome {
  readonly photo: Photo;
  readonly filter: Filter;
  readonly study: Study;
}

export async function photoAtHome(look: Look, id: string): Promise<Outcome<PhotoAtHome>> {
  const photo = await look.photos.get(asId(id));
  const filter = photo && (await look.filters.get(photo.filter));
  const study = filter && (await studyOfFilter(look, filter));
  return photo && filter && study ? done({ photo, filter, study }) : missing('photo', id);
}

export const photoView = (served: Served, queue: PhotoQueue, id: string): Promise<Outcome<PhotoJson>> =>
  served.records.look(async (look) => {
    const home = await photoAtHome(look, id);
    if (!home.ok) return home;
    const line = (await look.photos.linesOfStudy(home.value.study.id)).find((one) => one.id === id);
    if (!line) return missing('photo', id);
    return done(photoJson(line, line.finding === null ? null : await look.findings.get(line.finding), queue));
  });

/** Whether a particle is in the count of its run, as the question and the coarsest optics of the study say. */
function counts(
  particle: ParticleRecord,
  { study, sizeFromUm }: Pick<CountedStudy, 'study' | 'sizeFromUm'>,
): boolean {
  const { question } = study;
  const size = particle.feretMaxUm;
  return (
    (particle.standing === 'kept' || particle.standing === 'unmarked') &&
    particle.countsOn === null &&
    size !== null &&
    size >= sizeFromUm &&
    (question.sizeToUm === null || size < question.sizeToUm) &&
    (question.shapes.length === 0 || question.shapes.includes(particle.shapeNow)) &&
    (question.colours.length === 0 || question.colours.includes(particle.colourNow))
  );
}

const countsOn = (other: ParticleRecord | undefined): MarkedParticleJson['counts_on'] =>
  other ? { photo: other.photo, particle: other.id, number: other.number } : null;

const DECISION = { kept: 'kept', dropped: 'dropped', unmarked: 'undecided', replaced: 'dropped' } as const;

/** The particles that these count on. */
export async function countingFor(
  look: Look,
  particles: readonly ParticleRecord[],
): Promise<ReadonlyMap<string, ParticleRecord>> {
  const ids = [...new Set(particles.flatMap((particle) => particle.countsOn ?? []))];
  const others = ids.length === 0 ? [] : await look.particles.some(ids);
  return new Map(others.map((particle) => [particle.id, particle]));
}

export const markedParticle = (
  particle: ParticleRecord,
  counted: Pick<CountedStudy, 'study' | 'sizeFromUm'>,
  others: ReadonlyMap<string, ParticleRecord>,
  disagree: Disagree,
): MarkedParticleJson => ({
  ...particleJson({ ...particle, shape: particle.shapeNow, colour: particle.colourNow }),
  id: particle.id,
  number: particle.number,
  decision: DECISION[particle.standing],
  counts_on: countsOn(particle.countsOn === null ? undefined : others.get(particle.countsOn)),
  counts: counts(particle, counted),
  disagree: [...(disagree.get(particle.id) ?? [])],
});

type Disagree = ReadonlyMap<string, MarkedParticleJson['disagree']>;

/** What people last called the particles on which they differ, by their names. */
export async function disagreeOf(look: Look, marks: readonly Mark[]): Promise<Disagree> {
  const found = disagreements(marks);
  if (found.size === 0) return new Map();
  const people = new Map((await look.people.list()).map((person) => [person.id, person.name]));
  return new Map(
    [...found].map(([particle, calls]) => [
      particle,
      calls.map(({ by, kept, at }) => ({
        by: people.get(by) ?? 'somebody',
        decision: kept ? ('kept' as const) : ('dropped' as const),
        at,
      })),
    ]),
  );
}

export const particlesView = ({ records }: Served, id: string): Promise<Outcome<ParticlesAnswer>> =>
  records.look(async (look) => {
    const home = await photoAtHome(look, id);
    if (!home.ok) return home;
    const finding = await look.findings.newest(home.value.photo.id);
    const particles = finding ? await look.particles.ofFinding(finding.id) : [];
    const counted = await countedSizes(look, home.value.study);
    const others = await countingFor(look, particles);
    const disagree = await disagreeOf(look, await look.marks.ofPhoto(home.value.photo.id));
    return done({
      photo: id,
      particles: particles
        .filter((particle) => particle.standing !== 'replaced')
        .map((particle) => markedParticle(particle, counted, others, disagree)),
    });
  });
