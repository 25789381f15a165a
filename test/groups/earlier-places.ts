/** Earlier laboratories put where the program finds them: a folder, or a database with originals beside it. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { EARLIER, earlierOriginal } from './earlier.ts';

export function layOriginals(folder: string): void {
  for (let k = 0; k < EARLIER.photos; k++) {
    const bytes = earlierOriginal(k);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    fs.mkdirSync(path.join(folder, sha256.slice(0, 2)), { recursive: true });
    fs.writeFileSync(path.join(folder, sha256.slice(0, 2), sha256.slice(2)), bytes);
  }
}

/** `empty`: a database folder without tables, made once and copied, for making one takes seconds. */
export async function layFolder(folder: string, sql: string, empty: string): Promise<void> {
  if (!fs.existsSync(empty)) await (await PGlite.create(empty)).close();
  fs.mkdirSync(folder, { recursive: true });
  fs.cpSync(empty, path.join(folder, 'database'), { recursive: true });
  const database = await PGlite.create(path.join(folder, 'database'));
  await database.exec(sql);
  const { rows } = await database.query<{ id: string }>('select id from laboratory');
  await database.close();
  layOriginals(path.join(folder, 'originals'));
  const card = { format: 'retentate/laboratory', layout: 1, id: rows[0]!.id };
  fs.writeFileSync(path.join(folder, 'laboratory.json'), JSON.stringify(card));
}

export async function layDatabase(address: string, sql: string): Promise<void> {
  const { default: pg } = await import('pg');
  const client = new pg.Client({ connectionString: address });
  await client.connect();
  await client.query(sql);
  await client.end();
}
