/** A migration held by its database in the middle of a step, its statements done and nothing of it kept yet, to be killed there. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { MIGRATIONS } from '../../src/store/migrations/index.ts';

/** Each step ends by writing its line; what is done before that waits with it. */
const onStep = (body: string): string => `
create function hold_step() returns trigger language plpgsql as $$ begin ${body} return new; end $$;
create trigger hold_step before insert on schema_step for each row execute function hold_step();`;

/** On a server: whoever holds this lock holds the step. The number is the tests’ own. */
export const HOLDING = 7_319_990;
export const holdOnServer = (step: number): string =>
  onStep(`if new.number = ${step} then perform pg_advisory_xact_lock(${HOLDING}); end if;`);

const INSIDE = '/pglite/data';
/** In a folder: as long as the file `hold` beside the database names the step; `reached` tells that it waits. */
export const HOLD_IN_FOLDER = onStep(`
  if trim(pg_read_file('${INSIDE}/hold', true)) = new.number::text then
    copy (select 1) to '${INSIDE}/reached';
    while pg_read_file('${INSIDE}/hold', true) is not null loop null; end loop;
  end if;`);

/** A step of those that a laboratory with `there` steps still has before it. */
export const drawStep = (there: number, chance: () => number): number =>
  there + 1 + Math.floor(chance() * (MIGRATIONS.length - there));

/** Steps kept in a folder's database, looked at on a copy: the program itself must mend what was killed. */
export async function stepsIn(folder: string): Promise<number> {
  const copy = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-steps-'));
  try {
    fs.cpSync(path.join(folder, 'database'), copy, { recursive: true });
    const database = await PGlite.create(copy);
    const { rows } = await database.query<{ n: number }>('select count(*)::int as n from schema_step');
    await database.close();
    return rows[0]!.n;
  } finally {
    fs.rmSync(copy, { recursive: true, force: true });
  }
}
