import { and, desc, eq, inArray, isNotNull, lt, or, sql } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import type { Mark, ParticleId } from '../../study/index.ts';
import * as t from '../schema.ts';
import { photoNow } from '../schema-moves.ts';
import { type Database, first } from './database.ts';

const asMark = (row: typeof t.mark.$inferSelect): Mark => ({
  id: row.id,
  photo: row.photo,
  particles: row.particles,
  decision: row.decision,
  by: row.by,
  at: row.at,
  ...(row.carries === null ? {} : { carries: row.carries }),
});

/** As one parameter of the type uuid[]; there are at most ten thousand. */
const list = (particles: readonly ParticleId[]) => sql`${`{${particles.join(',')}}`}::uuid[]`;

export const markShelf = (db: Database): Desk['marks'] => ({
  add: async (mark) => {
    const undoes = mark.decision.kind === 'undo' ? mark.decision.undoes : null;
    await db.insert(t.mark).values({ ...mark, particles: [...mark.particles], undoes });
  },
  get: async (id) => {
    const row = first(await db.select().from(t.mark).where(eq(t.mark.id, id)));
    return row && asMark(row);
  },
  touching: async (particles) =>
    (
      await db
        .select()
        .from(t.mark)
        .where(sql`${t.mark.particles} && ${list(particles)}`)
        .orderBy(t.mark.turn)
    ).map(asMark),
  ofPhoto: async (photo) =>
    (await db.select().from(t.mark).where(eq(t.mark.photo, photo)).orderBy(t.mark.turn)).map(asMark),
  withUndoings: async (photo, marks) =>
    (
      await db
        .select()
        .from(t.mark)
        .where(and(eq(t.mark.photo, photo), or(isNotNull(t.mark.undoes), inArray(t.mark.id, [...marks]))))
        .orderBy(t.mark.turn)
    ).map(asMark),
  newest: async (study, most, before) => {
    const rows = await db
      .select({ mark: t.mark })
      .from(t.mark)
      .innerJoin(photoNow, eq(photoNow.id, t.mark.photo))
      .innerJoin(t.filter, eq(t.filter.id, photoNow.filter))
      .innerJoin(t.run, and(eq(t.run.id, t.filter.run), eq(t.run.study, study)))
      .where(
        before === null
          ? undefined
          : lt(t.mark.turn, sql`(select m.turn from mark m where m.id = ${before})`),
      )
      .orderBy(desc(t.mark.turn))
      .limit(most);
    return rows.map((row) => asMark(row.mark));
  },
});
