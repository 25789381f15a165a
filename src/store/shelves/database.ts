import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core';

/** Any Postgres that drizzle speaks to: the embedded one or a server. */
export type Database = PgDatabase<PgQueryResultHKT>;

export const first = <T>(rows: readonly T[]): T | null => rows[0] ?? null;
