import type { Finding, FindWish } from '../science/imaging/finding.ts';
import {
  type Filter,
  type FindingId,
  type FindingRecord,
  type Optics,
  type ParticleRecord,
  type Photo,
  type SearchSettings,
  USUAL_SEARCH,
  wishKey,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { carryMarks } from './carry-marks.ts';
import { joinPhotographs } from './join-photographs.ts';
import { asId, known } from './known.ts';
import type { Look, Names, Tools } from './ports.ts';

export interface FoundOnPhoto {
  readonly finding: FindingRecord;
  readonly particles: number;
  /** True when the same finding was there already: nothing was added. */
  readonly known: boolean;
}

/** The wish that the records imply: the printed squares where there are any, else the calibrated lens, else no scale. */
export function wishFor(
  filter: Filter,
  optics: Optics | null,
  settings: Pick<SearchSettings, 'falseFindsPerBlank' | 'smallestUm'>,
): FindWish {
  const rest = { smallest: settings.smallestUm, falseFindsPerBlank: settings.falseFindsPerBlank };
  if (filter.pitchMm !== null) return { scale: { from: 'printed-grid', pitch: filter.pitchMm }, ...rest };
  if (optics?.umPerPx) return { scale: { from: 'given', scale: optics.umPerPx }, ...rest };
  return { scale: { from: 'nothing' }, ...rest };
}

/** How this photo would be searched now. */
export async function wishOf(look: Look, photo: Photo): Promise<FindWish> {
  const filter = (await look.filters.get(photo.filter))!;
  const run = await look.runs.get(filter.run);
  const optics = photo.optics ? await look.optics.get(photo.optics) : null;
  return wishFor(filter, optics, (run && (await look.searchSettings.newest(run.study))) ?? USUAL_SEARCH);
}

/**
 * Finds particles on a photo and keeps finding and particles in one transaction, with how the photo lies to the others. The same photo, method version and
 * wish give the finding that is there; another version or wish adds one, and the old one stays with its marks, which
 * are repeated on the same pieces of the new one.
 */
export async function findOnPhoto(
  { records, files, work, clock, names }: Tools,
  wish: {
    readonly photo: string;
    /** Null: what the records imply. */
    readonly wish?: FindWish | null;
    readonly progress?: (share: number) => void;
  },
): Promise<Outcome<FoundOnPhoto>> {
  const { method, version } = work;
  const about = await records.look(async (look) => {
    const photo = await known(look.photos.get(asId(wish.photo)), 'photo', wish.photo);
    if (!photo.ok) return photo;
    const chosen = wish.wish ?? (await wishOf(look, photo.value));
    const key = wishKey(chosen);
    const there = await look.findings.same(photo.value.id, method, version, key);
    const particles = there ? await look.particles.countOf(there.id) : 0;
    return done({ photo: photo.value, chosen, key, there, particles });
  });
  if (!about.ok) return about;
  const { photo, chosen, key, there, particles } = about.value;
  if (there) return done({ finding: there, particles, known: true });

  const found = await files.withFile(photo.sha256, (path) =>
    work.find({ path, name: photo.name, sha256: photo.sha256 }, chosen, wish.progress),
  );
  if (!found.ok) return found;
  const { finding, pieces } = asRecords(found.value, photo, chosen, clock.now(), names);
  return records.change(async (desk) => {
    // Another process may have found the same meanwhile; its finding is as good.
    const meanwhile = await desk.findings.same(photo.id, finding.method, finding.version, key);
    if (meanwhile) {
      return done({ finding: meanwhile, particles: await desk.particles.countOf(meanwhile.id), known: true });
    }
    const before = await desk.findings.newest(photo.id);
    await desk.findings.add(finding, key, pieces);
    if (before) await carryMarks(desk, { clock, names }, photo, before, finding);
    await joinPhotographs(desk, { clock, names }, photo.filter);
    return done({ finding, particles: pieces.length, known: false });
  });
}

function asRecords(
  { particles, ...rest }: Finding,
  photo: Photo,
  wish: FindWish,
  at: FindingRecord['at'],
  names: Names,
): { finding: FindingRecord; pieces: ParticleRecord[] } {
  const id: FindingId = names.next();
  const finding: FindingRecord = { ...rest, id, photo: photo.id, wish, at };
  const pieces = particles.map(
    (particle, index): ParticleRecord => ({
      ...particle,
      id: names.next(),
      finding: id,
      photo: photo.id,
      number: index + 1,
      drawnBy: null,
      standing: 'unmarked',
      countsOn: null,
      shapeNow: particle.shape,
      colourNow: particle.colour,
    }),
  );
  return { finding, pieces };
}
