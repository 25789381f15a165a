import { and, desc, eq, inArray, not, type SQL, sql } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import type { StudyId } from '../../study/index.ts';
import * as t from '../schema.ts';
import { type Database, first } from './database.ts';
import { inUse } from './withdrawal-shelf.ts';

type Kept =
  | 'laboratory'
  | 'people'
  | 'studies'
  | 'specimens'
  | 'portions'
  | 'procedures'
  | 'editions'
  | 'journal';

async function portionsOf(db: Database, study: StudyId, which: SQL) {
  const rows = await db
    .select({ portion: t.portion })
    .from(t.portion)
    .innerJoin(t.specimen, eq(t.specimen.id, t.portion.specimen))
    .where(and(eq(t.specimen.study, study), which))
    .orderBy(t.portion.id);
  return rows.map((row) => row.portion);
}

const proceduresOf = (db: Database, study: StudyId, which: SQL) =>
  db
    .select()
    .from(t.procedure)
    .where(and(eq(t.procedure.study, study), which))
    .orderBy(t.procedure.id);

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
    ofStudy: (study) => portionsOf(db, study, inUse(t.portion.id)),
    withdrawnOfStudy: (study) => portionsOf(db, study, not(inUse(t.portion.id))),
  },
  procedures: {
    add: async (record) => void (await db.insert(t.procedure).values(record)),
    get: async (id) => first(await db.select().from(t.procedure).where(eq(t.procedure.id, id))),
    ofStudy: (study) => proceduresOf(db, study, inUse(t.procedure.id)),
    withdrawnOfStudy: (study) => proceduresOf(db, study, not(inUse(t.procedure.id))),
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
        .where(and(eq(t.procedure.study, study), inUse(t.procedure.id)))
        .orderBy(t.edition.procedure, t.edition.number);
      return rows.map((row) => row.edition);
    },
  },
  journal: {
    add: async (line) => void (await db.insert(t.journal).values(line)),
    newest: (most) => journalLines(db).limit(most),
    ofDeeds: (deeds, most) =>
      journalLines(db)
        .where(inArray(t.journal.deed, [...deeds]))
        .limit(most),
  },
});

const journalLines = (db: Database) =>
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
    .$dynamic();
