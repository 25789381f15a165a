/**
 * Laboratories as earlier versions left them: for each migration the schema of that time with a few rows, as SQL. What is
 * there is never written again; `npx tsx test/groups/earlier.ts` adds what is missing.
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { PGlite } from '@electric-sql/pglite';
import { drizzle } from 'drizzle-orm/pglite';
import {
  findOnPhoto,
  importPhoto,
  markParticles,
  recordTap,
  snapshotClaim,
  undo,
} from '../../src/actions/index.ts';
import { openLaboratory } from '../../src/store/index.ts';
import { migrate } from '../../src/store/migrate.ts';
import { MIGRATIONS } from '../../src/store/migrations/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from '../engines/pretended.ts';
import { given, smallStudy } from '../engines/small-study.ts';

const FOLDER = fileURLToPath(new URL('./earlier', import.meta.url));

/** Names of the migrations of which a laboratory is kept, oldest first, each with its SQL. */
export const earlierLaboratories = (): readonly { readonly name: string; readonly sql: string }[] =>
  fs
    .readdirSync(FOLDER)
    .sort()
    .map((file) => ({
      name: file.replace('.sql', ''),
      sql: fs.readFileSync(path.join(FOLDER, file), 'utf8'),
    }));

/** The originals that those laboratories name. */
export const earlierOriginal = (k: number): Uint8Array => photoBytes(k + 2, `earlier ${k}`);
export const EARLIER = { photos: 6, marks: 13, study: 'Boards' } as const;

/** A laboratory with something on every shelf that has been there from the beginning, and a tap of the bench. */
async function makeOne(folder: string): Promise<void> {
  const [clock, names] = [tickingClock(), countedNames()];
  const lab = given(
    await openLaboratory(folder, { clock, names, make: { name: 'Earlier', invented: true } }),
  );
  const tools = { records: lab.records, files: lab.files, work: pretendedWork(), clock, names };
  const { study, specimen, filters, person, runs } = await smallStudy(tools, EARLIER.study);
  const by = person.id;
  for (const [k, filter] of filters.entries()) {
    const source = { bytes: earlierOriginal(k) };
    const { photo } = given(
      await importPhoto(tools, { filter: filter.id, source, name: `photo ${k}.png`, by }),
    );
    const { finding } = given(await findOnPhoto(tools, { photo: photo.id }));
    const [one, two] = await tools.records.look((look) => look.particles.ofFinding(finding.id));
    for (const [piece, kind] of [
      [one!, 'keep'],
      [two!, 'drop'],
    ] as const) {
      given(await markParticles(tools, { photo: photo.id, particles: [piece.id], decision: { kind }, by }));
    }
  }
  given(await undo(tools, { study: study.id, by }));
  given(await snapshotClaim(tools, { study: study.id, specimen: specimen.id, by, version: '0.0.0' }));
  const deed = { do: 'begin' };
  const tap = { run: runs[0]!.id, device: 'telephone', number: 1, deed, at: clock.now(), by };
  given(await recordTap(tools, { ...tap, id: names.next<'tap'>() }));
  await lab.close();
}

const COLUMNS = `
  select c.relname as name, a.attname as column, a.attidentity <> '' as counted
  from pg_class c join pg_namespace n on n.oid = c.relnamespace join pg_attribute a on a.attrelid = c.oid
  where n.nspname = 'public' and c.relkind = 'r' and a.attnum > 0 and not a.attisdropped
  order by c.relname, a.attnum`;

/** The first `n` migrations and what of `full` has its place in them, as SQL for either engine. */
async function earlier(full: PGlite, n: number): Promise<string> {
  const then = await PGlite.create();
  given(await migrate(drizzle(then), MIGRATIONS.slice(0, n)));
  const { rows } = await then.query<{ name: string; column: string; counted: boolean }>(COLUMNS);
  const lines: string[] = [];
  for (const table of new Set(rows.map(({ name }) => name))) {
    const columns = rows.filter(({ name }) => name === table).map(({ column }) => `"${column}"`);
    const from = table === 'schema_step' ? then : full;
    const values = columns.map((column) => `coalesce(quote_literal(${column}::text), 'null')`).join(`, `);
    const found = await from.query<{ row: string }>(
      `select concat_ws(', ', ${values}) as row from "${table}" order by 1`,
    );
    for (const { row } of found.rows) {
      lines.push(`insert into "${table}" (${columns.join(', ')}) overriding system value values (${row});`);
    }
  }
  for (const { name, column } of rows.filter(({ counted }) => counted)) {
    const last = `coalesce(max("${column}"), 0) + 1`;
    lines.push(
      `select setval(pg_get_serial_sequence('${name}', '${column}'), ${last}, false) from "${name}";`,
    );
  }
  await then.close();
  const schema = [
    'create table schema_step (number integer primary key, name text not null, sha256 text not null, at timestamptz not null default now());',
    ...MIGRATIONS.slice(0, n).map(({ sql }) => sql.trim()),
  ];
  // Rows come in any order, and what may only be added may still be put back.
  return `${schema.join('\n')}\nset session_replication_role = replica;\n${lines.join('\n')}\nset session_replication_role = origin;\n`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-earlier-'));
  await makeOne(path.join(home, 'laboratory'));
  const full = await PGlite.create(path.join(home, 'laboratory', 'database'));
  await full.exec("set timezone = 'UTC'");
  fs.mkdirSync(FOLDER, { recursive: true });
  for (const [at, { name }] of MIGRATIONS.entries()) {
    const file = path.join(FOLDER, `${name}.sql`);
    if (fs.existsSync(file)) continue;
    fs.writeFileSync(file, await earlier(full, at + 1));
    process.stdout.write(`${file}\n`);
  }
  await full.close();
  fs.rmSync(home, { recursive: true, force: true });
}
