import { desc, eq, sql } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import * as t from '../schema.ts';
import { type Database, first } from './database.ts';

type Kept =
  | 'laboratory'
  | 'people'
  | 'studies'
  | 'specimens'
  | 'portions'
  | 'procedures'
  | 'editions'
  | 'journal';

/** The records that plan a study. Rows and records have the same fields, so nothing is translated. */
export const studyShelves = (db: Database): Pick<Desk, Kept> => ({
  laboratory: {
    get: async () => {
      const found = first(await db.select().from(t.laboratory));
      if (!found) throw new Error('the laboratory has no record of itself; its making was not finished');
      return found;
    },
    rename: async (name) => {
      await db.update(t.laboratory).set({ name });
    },
  },
  people: {
    add: async (record) => void (await db.insert(t.person).values(record)),
    get: async (id) => first(await db.select().from(t.person).where(eq(t.person.id, id))),
    list: () => db.select().from(t.person).orderBy(t.person.since, t.person.id),
  },
  studies: {
    add: async (record) => void (await db.insert(t.study).values(record)),
    get: async (id) => first(await db.select().from(t.study).where(eq(t.study.id, id))),
    list: () => db.select().from(t.study).orderBy(t.study.madeAt, t.study.id),
    changeQuestion: async ({ id, question }) => {
      await db.update(t.study).set({ question }).where(eq(t.study.id, id));
    },
  },
  specimens: {
    add: async (record) => void (await db.insert(t.specimen).values(record)),
    get: async (id) => first(await db.select().from(t.specimen).where(eq(t.specimen.id, id))),
    ofStudy: (study) =>
      db
        .select()
        .from(t.specimen)
        .where(eq(t.specimen.study, study))
        // The product asked about comes first.
        .orderBy(desc(t.specimen.role), t.specimen.madeAt, t.specimen.id),
  },
  portions: {
    add: async (record) => void (await db.insert(t.portion).values(record)),
    get: async (id) => first(await db.select().from(t.portion).where(eq(t.portion.id, id))),
    ofStudy: async (study) => {
      const rows = await db
        .select({ portion: t.portion })
        .from(t.portion)
        .innerJoin(t.specimen, eq(t.specimen.id, t.portion.specimen))
        .where(eq(t.specimen.study, study))
        .orderBy(t.portion.id);
      return rows.map((row) => row.portion);
    },
  },
  procedures: {
    add: async (record) => void (await db.insert(t.procedure).values(record)),
    get: async (id) => first(await db.select().from(t.procedure).where(eq(t.procedure.id, id))),
    ofStudy: (study) =>
      db.select().from(t.procedure).where(eq(t.procedure.study, study)).orderBy(t.procedure.id),
  },
  editions: {
    add: async (record) => void (await db.insert(t.edition).values(record)),
    get: async (id) => first(await db.select().from(t.edition).where(eq(t.edition.id, id))),
    latest: async (procedure) =>
      first(
        await db
          .select()
          .from(t.edition)
          .where(eq(t.edition.procedure, procedure))
          .orderBy(desc(t.edition.number))
          .limit(1),
      ),
    ofStudy: async (study) => {
      const rows = await db
        .select({ edition: t.edition })
        .from(t.edition)
        .innerJoin(t.procedure, eq(t.procedure.id, t.edition.procedure))
        .where(eq(t.procedure.study, study))
        .orderBy(t.edition.procedure, t.edition.number);
      return rows.map((row) => row.edition);
    },
  },
  journal: {
    add: async (line) => void (await db.insert(t.journal).values(line)),
    newest: (most) =>
      db
        .select({
          at: t.journal.at,
          by: t.journal.by,
          deed: t.journal.deed,
          subject: t.journal.subject,
          facts: t.journal.facts,
        })
        .from(t.journal)
        .orderBy(sql`${t.journal.turn} desc`)
        .limit(most),
  },
});
