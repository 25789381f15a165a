import { desc, eq } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import * as t from '../schema-plans.ts';
import { type Database, first } from './database.ts';

const PLAN = {
  id: t.plan.id,
  study: t.plan.study,
  answers: t.plan.answers,
  runs: t.plan.runs,
  at: t.plan.at,
  by: t.plan.by,
};
const RULES = {
  id: t.comparisonRules.id,
  study: t.comparisonRules.study,
  tolerances: t.comparisonRules.tolerances,
  alike: t.comparisonRules.alike,
  because: t.comparisonRules.because,
  at: t.comparisonRules.at,
  by: t.comparisonRules.by,
};

/** What is meant to be done, and what the laboratory declared for itself. Everything is appended; the newest stands. */
export const planShelves = (db: Database): Pick<Desk, 'stepKinds' | 'plans' | 'comparisonRules'> => ({
  stepKinds: {
    add: async (record) => void (await db.insert(t.ownStepKind).values(record)),
    list: () => db.select().from(t.ownStepKind).orderBy(t.ownStepKind.at, t.ownStepKind.kind),
  },
  plans: {
    add: async (record) => void (await db.insert(t.plan).values(record)),
    newest: async (study) =>
      first(
        await db.select(PLAN).from(t.plan).where(eq(t.plan.study, study)).orderBy(desc(t.plan.turn)).limit(1),
      ),
  },
  comparisonRules: {
    add: async (record) => void (await db.insert(t.comparisonRules).values(record)),
    newest: async (study) =>
      first(
        await db
          .select(RULES)
          .from(t.comparisonRules)
          .where(eq(t.comparisonRules.study, study))
          .orderBy(desc(t.comparisonRules.turn))
          .limit(1),
      ),
  },
});
