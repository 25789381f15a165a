/** Brings a database to the newest schema, one migration a transaction; refuses one from a newer version. */
import { createHash } from 'node:crypto';
import { sql } from 'drizzle-orm';
import { done, type Outcome, refused } from '../units/index.ts';
import { MIGRATIONS } from './migrations/index.ts';
import type { Database } from './shelves/database.ts';

export const hashOfMigration = (text: string): string => createHash('sha256').update(text).digest('hex');

const rowsOf = (answer: unknown): { name: string; sha256: string }[] =>
  (answer as { rows: { name: string; sha256: string }[] }).rows;

export async function migrate(
  db: Database,
  migrations: typeof MIGRATIONS = MIGRATIONS,
): Promise<Outcome<number>> {
  await db.execute(sql`create table if not exists schema_step (
    number integer primary key, name text not null, sha256 text not null, at timestamptz not null default now())`);
  const applied = rowsOf(await db.execute(sql`select name, sha256 from schema_step order by number`));
  for (const [at, { name, sha256 }] of applied.entries()) {
    const known = migrations[at];
    if (!known) {
      return refused({
        why: 'newer-schema',
        message: `This laboratory was last used by a newer version (it has “${name}”); update Retentate to open it.`,
      });
    }
    if (known.name !== name || hashOfMigration(known.sql) !== sha256) {
      return refused({
        why: 'other-schema',
        message: `This laboratory's database was made otherwise at “${name}” than this version knows; open it with the version that made it.`,
      });
    }
  }
  for (const [at, { name, sql: text }] of migrations.entries()) {
    if (at < applied.length) continue;
    await db.transaction(async (tx) => {
      for (const statement of statements(text)) await tx.execute(sql.raw(statement));
      await tx.execute(
        sql`insert into schema_step (number, name, sha256) values (${at + 1}, ${name}, ${hashOfMigration(text)})`,
      );
    });
  }
  return done(migrations.length - applied.length);
}

/** Statements apart (the prepared protocol takes one at a time); a semicolon inside $$ … $$ does not end one. */
export function statements(text: string): string[] {
  return text
    .split('$$')
    .map((part, at) => (at % 2 === 0 ? part.replaceAll(';', '\u0000') : part))
    .join('$$')
    .split('\u0000')
    .map((statement) => statement.trim())
    .filter((statement) => statement !== '');
}
