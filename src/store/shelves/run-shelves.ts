import { and, asc, eq, inArray, not, type SQL, sql } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import type { Deviation, StudyId } from '../../study/index.ts';
import * as t from '../schema.ts';
import { standing } from './bench-shelf.ts';
import { type Database, first } from './database.ts';
import { runCounts } from './withdrawal-shelf.ts';

const DEVIATION = {
  id: t.deviation.id,
  runs: t.deviation.runs,
  kind: t.deviation.kind,
  stepKey: t.deviation.stepKey,
  asDone: t.deviation.asDone,
  what: t.deviation.what,
  why: t.deviation.why,
  at: t.deviation.at,
  by: t.deviation.by,
};

const runsOf = (db: Database, study: StudyId, which: SQL) =>
  db
    .select()
    .from(t.run)
    .where(and(eq(t.run.study, study), which))
    .orderBy(asc(t.run.order), t.run.id);

/** What was carried out, and with what. */
export const runShelves = (
  db: Database,
): Pick<Desk, 'runs' | 'deviations' | 'fractions' | 'optics' | 'filters'> => ({
  runs: {
    add: async (record) => void (await db.insert(t.run).values(record)),
    get: async (id) => first(await db.select().from(t.run).where(eq(t.run.id, id))),
    ofStudy: (study) => runsOf(db, study, runCounts(t.run.id)),
    withdrawnOfStudy: (study) => runsOf(db, study, not(runCounts(t.run.id))),
    putInOrder: async (runs) => {
      if (runs.length === 0) return;
      await db
        .update(t.run)
        .set({ order: sql`array_position(${`{${runs.join(',')}}`}::uuid[], ${t.run.id})` })
        .where(inArray(t.run.id, [...runs]));
    },
  },
  deviations: {
    add: async (record: Deviation) => {
      const run = first(await db.select().from(t.run).where(eq(t.run.id, record.runs[0]!)));
      if (!run) throw new Error(`no run ${record.runs[0]}`);
      await db.insert(t.deviation).values({ ...record, runs: [...record.runs], study: run.study });
    },
    get: async (id) => first(await db.select(DEVIATION).from(t.deviation).where(eq(t.deviation.id, id))),
    ofStudy: (study) =>
      db
        .select(DEVIATION)
        .from(t.deviation)
        .where(and(eq(t.deviation.study, study), standing(t.deviation.id)))
        .orderBy(t.deviation.at, t.deviation.id),
  },
  fractions: {
    add: async (record) => void (await db.insert(t.fraction).values(record)),
    get: async (id) => first(await db.select().from(t.fraction).where(eq(t.fraction.id, id))),
    ofStudy: async (study) => {
      const rows = await db
        .select({ fraction: t.fraction })
        .from(t.fraction)
        .innerJoin(t.run, and(eq(t.run.id, t.fraction.run), eq(t.run.study, study)))
        .where(and(standing(t.fraction.id), runCounts(t.run.id)))
        .orderBy(t.fraction.id);
      return rows.map((row) => row.fraction);
    },
  },
  optics: {
    add: async (record) => void (await db.insert(t.optics).values(record)),
    get: async (id) => first(await db.select().from(t.optics).where(eq(t.optics.id, id))),
    ofStudy: (study) => db.select().from(t.optics).where(eq(t.optics.study, study)).orderBy(t.optics.id),
  },
  filters: {
    add: async (record) => void (await db.insert(t.filter).values(record)),
    get: async (id) => first(await db.select().from(t.filter).where(eq(t.filter.id, id))),
    ofStudy: async (study) => {
      const rows = await db
        .select({ filter: t.filter })
        .from(t.filter)
        .innerJoin(t.run, and(eq(t.run.id, t.filter.run), eq(t.run.study, study)))
        .where(and(standing(t.filter.id), runCounts(t.run.id)))
        .orderBy(asc(t.run.order), t.filter.id);
      return rows.map((row) => row.filter);
    },
  },
});
