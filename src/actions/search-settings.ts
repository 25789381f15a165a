/** How a study's photographs are searched, and searching them anew after a change of settings or method. */
import {
  type AsGiven,
  makeSearchSettings,
  type Photo,
  type SearchSettings,
  wishKey,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { wishOf } from './find-on-photo.ts';
import { asId, known } from './known.ts';
import { namedPieces } from './named-pieces.ts';
import type { Tools } from './ports.ts';

/** For photographs searched from now on; those searched already keep what was found until they are searched anew. */
export const setSearch = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: AsGiven<Omit<SearchSettings, 'id' | 'at'>>,
): Promise<Outcome<SearchSettings>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const made = makeSearchSettings({ ...wish, id: names.next(), at: clock.now() });
    if (made.ok) await desk.searchSettings.add(made.value);
    return made;
  });

export interface ToSearchAnew {
  /** Searched in another way than would be done now. */
  readonly photos: readonly Photo[];
  /** Those of them that are left as they are: tests, drills or rounds name pieces of what was found on them. */
  readonly inUse: readonly Photo[];
}

/** Photographs of a study that a search now would search otherwise: other settings, or a newer method. */
export const toSearchAnew = (
  { records, work }: Pick<Tools, 'records' | 'work'>,
  wish: { readonly study: string },
): Promise<Outcome<ToSearchAnew>> =>
  records.look(async (look) => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const named = await namedPieces(look, study.value);
    const used = new Set<string>();
    for (const particle of await look.particles.some([...named])) used.add(particle.photo);
    const photos: Photo[] = [];
    const inUse: Photo[] = [];
    for (const line of await look.photos.linesOfStudy(study.value.id)) {
      if (line.finding === null) continue;
      const finding = (await look.findings.get(line.finding))!;
      const now = wishKey(await wishOf(look, line));
      const same =
        finding.method === work.method && finding.version === work.version && wishKey(finding.wish) === now;
      if (!same) (used.has(line.id) ? inUse : photos).push(line);
    }
    return done({ photos, inUse });
  });
