import { and, asc, desc, eq, getViewSelectedFields, inArray, type SQL, sql } from 'drizzle-orm';
import type { Desk, PhotoLine } from '../../actions/index.ts';
import type { FindingRecord, Photo, StudyId } from '../../study/index.ts';
import * as t from '../schema.ts';
import { photoNow } from '../schema-moves.ts';
import { type Database, first } from './database.ts';
import { runCounts } from './withdrawal-shelf.ts';

const asFinding = (row: typeof t.finding.$inferSelect): FindingRecord => ({
  id: row.id,
  photo: row.photo,
  method: row.method,
  version: row.version,
  wish: row.wish,
  scale: row.scale,
  grid: row.grid,
  refusal: row.refusal,
  warnings: row.warnings,
  searchedFraction: row.searchedFraction,
  floorPx: row.floorPx,
  at: row.at,
});

/** A photograph with the filter that it lies on now. */
const { aside, ...now } = getViewSelectedFields(photoNow);

interface LineCounts {
  readonly photo: string;
  readonly finding: PhotoLine['finding'];
  readonly refusal: PhotoLine['refusal'];
  readonly particles: number;
  readonly kept: number;
  readonly dropped: number;
  readonly unmarked: number;
}

export const photoShelf = (db: Database): Desk['photos'] => {
  const photosOf = (study: StudyId, which?: SQL): Promise<Photo[]> =>
    db
      .select(now)
      .from(photoNow)
      .innerJoin(t.filter, eq(t.filter.id, photoNow.filter))
      .innerJoin(t.run, and(eq(t.run.id, t.filter.run), eq(t.run.study, study)))
      .where(which)
      .orderBy(asc(t.run.order), photoNow.at, photoNow.id);
  const ofStudy = (study: StudyId) => photosOf(study, and(eq(aside, false), runCounts(t.run.id)));
  return {
    add: async (record) => void (await db.insert(t.photo).values(record)),
    get: async (id) => first(await db.select(now).from(photoNow).where(eq(photoNow.id, id))),
    bySha256: async (sha256) => first(await db.select(now).from(photoNow).where(eq(photoNow.sha256, sha256))),
    ofStudy,
    everOfStudy: (study) => photosOf(study),
    ofFilter: (filter) =>
      db
        .select(now)
        .from(photoNow)
        .where(and(eq(photoNow.filter, filter), eq(aside, false)))
        .orderBy(photoNow.at, photoNow.id),
    linesOfStudy: async (study) => {
      const photos = await ofStudy(study);
      const answer = await db.execute(sql`
        select n.photo, n.id as finding, n.refusal,
          count(pa.id)::int as particles,
          (count(pa.id) filter (where pa.standing = 'kept'))::int as kept,
          (count(pa.id) filter (where pa.standing = 'dropped'))::int as dropped,
          (count(pa.id) filter (where pa.standing = 'unmarked' and pa.counts_on is null))::int as unmarked
        from (
          select distinct on (f.photo) f.photo, f.id, f.refusal
          from finding f
          join photo_now p on p.id = f.photo
          join filter fi on fi.id = p.filter
          join run r on r.id = fi.run
          where r.study = ${study}
          order by f.photo, f.turn desc
        ) n
        left join particle pa on pa.finding = n.id and pa.standing <> 'replaced'
        group by n.photo, n.id, n.refusal`);
      const counted = new Map(
        (answer as unknown as { rows: LineCounts[] }).rows.map((row) => [row.photo, row]),
      );
      return photos.map((photo) => {
        const line = counted.get(photo.id);
        return {
          ...photo,
          finding: line?.finding ?? null,
          refusal: line?.refusal ?? null,
          particles: line?.particles ?? 0,
          kept: line?.kept ?? 0,
          dropped: line?.dropped ?? 0,
          unmarked: line?.unmarked ?? 0,
        };
      });
    },
    hashes: async () => (await db.select({ sha256: t.photo.sha256 }).from(t.photo)).map((row) => row.sha256),
  };
};

export const findingShelf = (db: Database, addParticles: Desk['particles']['add']): Desk['findings'] => ({
  add: async (finding, wishKey, particles) => {
    await db.insert(t.finding).values({ ...finding, wishKey, umPerPx: finding.scale?.umPerPx ?? null });
    await addParticles(particles);
  },
  get: async (id) => {
    const row = first(await db.select().from(t.finding).where(eq(t.finding.id, id)));
    return row && asFinding(row);
  },
  ofPhoto: async (photo) =>
    (await db.select().from(t.finding).where(eq(t.finding.photo, photo)).orderBy(t.finding.turn)).map(
      asFinding,
    ),
  newest: async (photo) => {
    const row = first(
      await db
        .select()
        .from(t.finding)
        .where(eq(t.finding.photo, photo))
        .orderBy(desc(t.finding.turn))
        .limit(1),
    );
    return row && asFinding(row);
  },
  newestOf: async (photos) =>
    new Map(
      (
        await db
          .selectDistinctOn([t.finding.photo])
          .from(t.finding)
          .where(inArray(t.finding.photo, [...photos]))
          .orderBy(t.finding.photo, desc(t.finding.turn))
      ).map((row) => [row.photo, asFinding(row)]),
    ),
  newestOfStudy: async (study) =>
    (
      await db
        .selectDistinctOn([t.finding.photo], { finding: t.finding })
        .from(t.finding)
        .innerJoin(photoNow, eq(photoNow.id, t.finding.photo))
        .innerJoin(t.filter, eq(t.filter.id, photoNow.filter))
        .innerJoin(t.run, and(eq(t.run.id, t.filter.run), eq(t.run.study, study)))
        .where(runCounts(t.run.id))
        .orderBy(t.finding.photo, desc(t.finding.turn))
    ).map(({ finding }) => asFinding(finding)),
  same: async (photo, method, version, wishKey) => {
    const row = first(
      await db
        .select()
        .from(t.finding)
        .where(
          and(
            eq(t.finding.photo, photo),
            eq(t.finding.method, method),
            eq(t.finding.version, version),
            eq(t.finding.wishKey, wishKey),
          ),
        ),
    );
    return row && asFinding(row);
  },
});
