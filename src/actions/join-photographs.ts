/** Overlapping photographs of one filter laid together, so that a particle on several of them counts once. */
import { countOnce, type Field, type FieldLink, linkFields } from '../science/imaging/index.ts';
import type { Filter, FilterId, FindingRecord, Joining, ParticleId, PersonId } from '../study/index.ts';
import { done, fraction, type Outcome } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Clock, Desk, Names, Tools } from './ports.ts';

interface Shown {
  readonly finding: FindingRecord;
  readonly particles: readonly { readonly id: ParticleId }[];
  readonly field: Field;
}

/** What tells that two pieces are one. */
const PLACED_BY = ['id', 'standing', 'centroidPx', 'areaPx2', 'feretMaxPx', 'touchesFrame', 'lab'] as const;

/** The filter's photographs as last found, those with a scale that were not refused, oldest first. */
async function shownOn(desk: Desk, filter: Filter, fewest: number): Promise<readonly Shown[]> {
  const shown: Shown[] = [];
  const photos = await desk.photos.ofFilter(filter.id);
  // One alone lies beside nothing; a stitched filter has tens of thousands of pieces, which need not be read for that.
  if (photos.length < fewest) return shown;
  // At once: a filter's photographs are read anew with each that is searched, while all other changes wait.
  const newest = await desk.findings.newestOf(photos.map(({ id }) => id));
  const measured = await desk.particles.measured(
    [...newest.values()].map(({ id }) => id),
    PLACED_BY,
  );
  for (const photo of photos) {
    const finding = newest.get(photo.id);
    if (!finding?.scale || finding.refusal) continue;
    const particles = measured.get(finding.id)!.filter((particle) => particle.standing !== 'replaced');
    const print =
      filter.pitchMm !== null && finding.grid.length > 0
        ? { pitchUm: filter.pitchMm * 1000, squares: finding.grid }
        : null;
    const sightings = particles.map((particle) => ({
      ...particle,
      decided: particle.standing !== 'unmarked',
    }));
    const { umPerPx } = finding.scale;
    const { widthPx, heightPx } = photo;
    shown.push({
      finding,
      particles,
      field: { widthPx, heightPx, umPerPx, print, sightings, stageUm: null },
    });
  }
  return shown;
}

/** Links among those shown: the ones on record stay, and only pairs with a finding that is new are looked at. */
function linksOf(shown: readonly Shown[], before: Joining | null): readonly FieldLink[] {
  const index = new Map(shown.map(({ finding }, at) => [finding.id, at]));
  const had = before && before.findings.length > 0 ? before.findings.map((id) => index.get(id)) : [];
  const kept = (before?.links ?? []).flatMap((link): FieldLink[] => {
    const [a, b] = [had[link.a], had[link.b]];
    return a === undefined || b === undefined || a >= b ? [] : [{ ...link, a, b }];
  });
  const old = new Set(had);
  const fresh = linkFields(
    shown.map(({ field }) => field),
    (at) => !old.has(at),
  );
  return [...kept, ...fresh];
}

async function settle(
  desk: Desk,
  { clock, names }: { readonly clock: Clock; readonly names: Names },
  filter: Filter,
  word: { readonly apart: boolean; readonly by: PersonId | null },
): Promise<Joining | null> {
  const before = await desk.joinings.newest(filter.id);
  // One that another was taken away from counts its pieces for itself again.
  const fewest = (before?.findings.length ?? 0) > 1 ? 1 : 2;
  const shown = await shownOn(desk, filter, fewest);
  if (shown.length < fewest && word.by === null) return before;
  const links = linksOf(shown, before);
  const together =
    shown.length === 0
      ? null
      : countOnce(
          shown.map(({ field }) => field),
          links,
        );
  const placed = shown.filter((_, at) => together?.places[at]);
  const area = placed.reduce(
    (sum, { field }) => sum + field.widthPx * field.heightPx * field.umPerPx ** 2,
    0,
  );
  await desk.particles.countOn(
    shown.map(({ finding }) => finding.id),
    word.apart || !together ? [] : pairsOf(shown, together.same),
  );
  const now: Joining = {
    id: names.next(),
    filter: filter.id,
    apart: word.apart,
    findings: shown.map(({ finding }) => finding.id),
    links,
    placed: placed.map(({ finding }) => finding.id),
    once: fraction(area > 0 ? Math.min(1, together!.viewUm2 / area) : 1),
    by: word.by,
    at: clock.now(),
  };
  const unchanged =
    before !== null && before.apart === now.apart && before.findings.join() === now.findings.join();
  if (unchanged) return before;
  await desk.joinings.add(now);
  return now;
}

type Same = ReturnType<typeof countOnce>['same'];

const pairsOf = (shown: readonly Shown[], same: Same) =>
  same.flatMap(([first, ...others]) => {
    const at = ([f, s]: readonly [number, number]) => shown[f]!.particles[s]!.id;
    return others.map((one) => [at(one), at(first!)] as const);
  });

/** After a photograph was searched or a piece drawn: anew, unless somebody wants the photographs counted apart. */
export async function joinPhotographs(
  desk: Desk,
  tools: { readonly clock: Clock; readonly names: Names },
  filterId: FilterId,
): Promise<void> {
  const filter = await desk.filters.get(filterId);
  if (!filter) return;
  const before = await desk.joinings.newest(filterId);
  if (!before?.apart) await settle(desk, tools, filter, { apart: false, by: null });
}

/** Somebody's word that each photograph of the filter counts for itself, or that what two of them show counts once again. */
export const countApart = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly filter: string; readonly apart: boolean; readonly by: string },
): Promise<Outcome<Joining>> =>
  records.change(async (desk) => {
    const filter = await known(desk.filters.get(asId(wish.filter)), 'filter', wish.filter);
    if (!filter.ok) return filter;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const joining = await settle(desk, { clock, names }, filter.value, {
      apart: wish.apart,
      by: person.value.id,
    });
    return done(joining!);
  });
