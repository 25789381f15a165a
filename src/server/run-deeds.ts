/** Runs, filters and places of photographs as people enter them. */
import {
  countApart,
  type Desk,
  type Look,
  layFilter,
  movePhoto,
  orderRuns,
  placePhoto,
  type RunWish,
  recordFraction,
  recordRuns,
  weighingsOf,
  weighProduct,
  withdraw,
} from '../actions/index.ts';
import type {
  ApartWish,
  FilterWish,
  FractionWish,
  MovesAnswer,
  MoveWish,
  PlacesAnswer,
  PlaceWish,
  RecordMade,
  RunChoices,
  RunsMade,
  RunsWish,
  RunWishJson,
  WeighingsAnswer,
  WeighingWish,
  WithdrawWish,
} from '../api/index.ts';
import type { Edition, Id, Run, StudyId } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import type { PhotoQueue } from './photo-queue.ts';
import type { Served } from './served.ts';

export const noSuch = (what: string, id: string) =>
  refused({
    why: `no-such-${what}`,
    message: `There is no ${what} ${id} in this laboratory; read the list anew.`,
  });

/** A study by its id, or the refusal that says there is none. */
export async function studyHere(look: Look | Desk, id: string): Promise<Outcome<StudyId>> {
  const study = await look.studies.get(id as Id<'study'>);
  return study ? done(study.id) : noSuch('study', id);
}

export async function addRuns(served: Served, study: string, wish: RunsWish): Promise<Outcome<RunsMade>> {
  const made = await recordRuns(
    served,
    wish.runs.map((run) => runWish(study, served.person, run)),
  );
  return made.ok ? done(runsMade(made.value)) : made;
}

const runWish = (study: string, person: string, run: RunWishJson): RunWish => ({
  study,
  edition: run.edition,
  kind: run.kind === 'specimen-run' ? 'specimen' : run.kind,
  name: run.name,
  portion: run.portion,
  weighed: run.weighed && {
    specimen: run.weighed.specimen,
    massG: run.weighed.mass_g,
    massIs: run.weighed.mass_is,
    pieces: run.weighed.pieces,
  },
  spike: run.spike && {
    added: run.spike.added,
    colour: run.spike.colour,
    material: run.spike.material,
    sizeUm: run.spike.size_um,
  },
  day: run.on,
  session: run.session,
  order: run.order,
  by: run.by ?? person,
  note: run.note,
});

const runsMade = (runs: readonly Run[]): RunsMade => ({
  runs: runs.map(({ id, name, order }) => ({ id, name, order })),
});

export async function orderDeed(served: Served, study: string, seed: number): Promise<Outcome<RunsMade>> {
  const ordered = await orderRuns(served, { study, seed, by: served.person });
  return ordered.ok ? done(runsMade(ordered.value)) : ordered;
}

const named = <T extends { readonly id: string; readonly name: string }>(
  made: Outcome<T>,
): Outcome<RecordMade> => (made.ok ? done({ id: made.value.id, name: made.value.name }) : made);

export const addFilter = async (
  served: Served,
  run: string,
  wish: FilterWish,
): Promise<Outcome<RecordMade>> =>
  named(
    await layFilter(served, {
      run,
      fraction: wish.fraction,
      name: wish.name,
      material: wish.material,
      poreUm: wish.pore_um,
      effectiveDiameterMm: wish.effective_diameter_mm,
      pitchMm: wish.pitch_mm,
      lot: wish.lot,
      examinedStated: wish.examined_stated,
      note: wish.note,
    }),
  );

export async function addWeighing(
  served: Served,
  run: string,
  wish: WeighingWish,
): Promise<Outcome<RecordMade>> {
  const made = await weighProduct(served, {
    run,
    stands: wish.stands,
    beforeG: wish.before_g,
    afterG: wish.after_g,
    uncertaintyG: wish.uncertainty_g,
    note: wish.note,
    by: served.person,
  });
  return made.ok
    ? done({ id: made.value.id, name: `${wish.before_g} g before, ${wish.after_g} g after` })
    : made;
}

export const weighingsView = (served: Served, id: string): Promise<Outcome<WeighingsAnswer>> =>
  served.records.look(async (look) => {
    const study = await studyHere(look, id);
    if (!study.ok) return study;
    const people = new Map((await look.people.list()).map((person) => [person.id, person.name]));
    return done({
      weighings: [...(await weighingsOf(look, study.value)).values()].map((one) => ({
        run: one.run,
        before_g: one.beforeG,
        after_g: one.afterG,
        uncertainty_g: one.uncertaintyG,
        note: one.note,
        by: people.get(one.by) ?? '',
        at: one.at,
      })),
    });
  });

export async function addFraction(
  served: Served,
  run: string,
  wish: FractionWish,
): Promise<Outcome<RecordMade>> {
  const made = await recordFraction(served, {
    run,
    kind: wish.kind,
    volumeMl: wish.volume_ml,
    place: wish.place,
    fate: wish.fate,
    note: wish.note,
  });
  return made.ok ? done({ id: made.value.id, name: made.value.kind }) : made;
}

export async function withdrawDeed(
  served: Served,
  study: string,
  wish: WithdrawWish,
): Promise<Outcome<RecordMade>> {
  const made = await withdraw(served, { ...wish, study, by: served.person });
  return made.ok ? done({ id: made.value.id, name: made.value.what }) : made;
}

export async function placeDeed(
  served: Served,
  photo: string,
  { square }: PlaceWish,
): Promise<Outcome<RecordMade>> {
  const made = await placePhoto(served, { photo, square, by: served.person });
  return made.ok ? done({ id: made.value.photo, name: 'place' }) : made;
}

/** A photograph that was moved may have to be searched by the print of its new filter. */
export async function moveDeed(
  served: Served,
  queue: PhotoQueue,
  photo: string,
  wish: MoveWish,
): Promise<Outcome<RecordMade>> {
  const made = await movePhoto(served, { ...wish, photo, by: served.person });
  if (!made.ok) return made;
  const { filter } = made.value;
  const moved = await served.records.look((look) => look.photos.get(made.value.photo));
  if (moved && filter !== null) queue.add(moved);
  return done({ id: made.value.id, name: filter === null ? 'set aside' : 'moved' });
}

export const movesView = ({ records }: Served, id: string): Promise<Outcome<MovesAnswer>> =>
  records.look(async (look) => {
    const study = await studyHere(look, id);
    if (!study.ok) return study;
    const people = new Map((await look.people.list()).map((person) => [person.id, person.name]));
    const newest = new Map((await look.photoMoves.ofStudy(study.value)).map((move) => [move.photo, move]));
    return done({
      moves: [...newest.values()].map(({ photo, name, filter, why, by, at }) => ({
        photo,
        name,
        filter,
        why,
        by: people.get(by) ?? '',
        at,
      })),
    });
  });

export async function apartDeed(
  served: Served,
  filter: string,
  { apart }: ApartWish,
): Promise<Outcome<RecordMade>> {
  const made = await countApart(served, { filter, apart, by: served.person });
  return made.ok ? done({ id: made.value.filter, name: apart ? 'apart' : 'together' }) : made;
}

export const placesView = ({ records }: Served, id: string): Promise<Outcome<PlacesAnswer>> =>
  records.look(async (look) => {
    const study = await studyHere(look, id);
    if (!study.ok) return study;
    const places = await look.photoPlaces.ofStudy(study.value);
    return done({
      places: places.map(({ photo, square }) => ({
        photo,
        square: square === null ? null : [square[0], square[1]],
      })),
    });
  });

export const choicesView = ({ records, clock, person }: Served, id: string): Promise<Outcome<RunChoices>> =>
  records.look(async (look) => {
    const study = await studyHere(look, id);
    if (!study.ok) return study;
    const editions = await look.editions.ofStudy(study.value);
    const procedures = new Map(
      (await look.procedures.ofStudy(study.value)).map((procedure) => [procedure.id, procedure.name]),
    );
    const runs = await look.runs.ofStudy(study.value);
    const specimens = await look.specimens.ofStudy(study.value);
    const portions = await look.portions.ofStudy(study.value);
    const last = (await look.filters.ofStudy(study.value)).reduce<FilterWish | null>(
      (_, filter) => ({
        name: '',
        material: filter.material,
        pore_um: filter.poreUm,
        effective_diameter_mm: filter.effectiveDiameterMm,
        pitch_mm: filter.pitchMm,
        lot: filter.lot,
        fraction: null,
        examined_stated: null,
        note: '',
      }),
      null,
    );
    const latest = newestOfEach(editions);
    return done({
      editions: [...editions].reverse().map((edition) => ({
        id: edition.id,
        label: `${procedures.get(edition.procedure) ?? 'procedure'}, edition ${edition.number}`,
        in_use: latest.get(edition.procedure) === edition.id,
      })),
      specimens: specimens.map(({ id, name }) => ({ id, name })),
      portions: portions.map((portion) => ({
        id: portion.id,
        label: `${specimens.find((one) => one.id === portion.specimen)?.name ?? ''}, ${portion.name}, ${portion.massG} g`,
        used_by: runs.find((run) => run.portion === portion.id && run.kind === 'specimen')?.name ?? null,
      })),
      people: (await look.people.list()).map(({ id, name }) => ({ id, name })),
      working: person,
      sessions: [...new Set(runs.map((run) => run.session))],
      mass_is: portions.at(-1)?.massIs ?? 'product-before',
      today: clock.now().slice(0, 10),
      last_filter: last,
    });
  });

const newestOfEach = (editions: readonly Edition[]): ReadonlyMap<string, string> =>
  new Map(
    [...editions].sort((a, b) => a.number - b.number).map((edition) => [edition.procedure, edition.id]),
  );
