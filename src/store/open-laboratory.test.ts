import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { getTableColumns, getTableName, sql } from 'drizzle-orm';
import { drizzle } from 'drizzle-orm/pglite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openEmbedded } from './embedded-postgres.ts';
import { checkOpen, openLaboratory, systemClock, systemNames } from './index.ts';
import { migrate } from './migrate.ts';
import { MIGRATIONS } from './migrations/index.ts';
import * as schema from './schema.ts';

const wish = { clock: systemClock, names: systemNames };
const make = { name: 'Bench', invented: false };

describe('a laboratory folder', () => {
  const root = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-open-'));
  const folder = path.join(root, 'laboratory');
  afterAll(() => fs.rmSync(root, { recursive: true, force: true }));

  beforeAll(async () => {
    const made = await openLaboratory(folder, { ...wish, make });
    if (!made.ok) throw new Error(made.refusal.message);
    expect(made.value.made).toBe(true);
    await made.value.close();
  }, 120_000);

  it('opens again as the same laboratory', async () => {
    const card = JSON.parse(fs.readFileSync(path.join(folder, 'laboratory.json'), 'utf8'));
    const opened = await openLaboratory(folder, { ...wish, make: null });
    if (!opened.ok) throw new Error(opened.refusal.message);
    expect(opened.value.made).toBe(false);
    expect(opened.value.laboratory).toMatchObject({ id: card.id, name: 'Bench', invented: false });
    const second = await openLaboratory(folder, { ...wish, make });
    expect(second).toMatchObject({ ok: false, refusal: { why: 'in-use' } });
    const report = await checkOpen(opened.value);
    expect(report).toEqual({
      photos: 0,
      originals: 0,
      findings: 0,
      particles: 0,
      marks: 0,
      unnamed: [],
      problems: [],
    });
    await opened.value.close();
  }, 60_000);

  it('has the tables that the queries speak of', async () => {
    const database = await openEmbedded(path.join(folder, 'database'));
    if (!database.ok) throw new Error(database.refusal.message);
    const answer = await database.value.query<{ name: string }>(
      `select table_name || '.' || column_name as name from information_schema.columns where table_schema = 'public'`,
    );
    const there = new Set(answer.rows.map((row) => row.name));
    const spoken = Object.values(schema).flatMap((table) =>
      Object.values(getTableColumns(table)).map((column) => `${getTableName(table)}.${column.name}`),
    );
    expect(spoken.filter((name) => !there.has(name))).toEqual([]);
    await database.value.close();
  }, 60_000);

  it('refuses a schema from a newer version and one made otherwise', async () => {
    const database = await openEmbedded(path.join(folder, 'database'));
    if (!database.ok) throw new Error(database.refusal.message);
    const db = drizzle(database.value);
    const newer = await migrate(db, []);
    expect(newer).toMatchObject({ ok: false, refusal: { why: 'newer-schema' } });
    const edited = MIGRATIONS.map((m) => ({ ...m, sql: `${m.sql} ` }));
    expect(await migrate(db, edited)).toMatchObject({ ok: false, refusal: { why: 'other-schema' } });
    // A migration that fails leaves nothing of itself.
    const failing = [...MIGRATIONS, { name: '9999-fails', sql: 'create table half (x int); select 1/0' }];
    await expect(migrate(db, failing)).rejects.toThrow();
    const half = await db.execute(sql`select to_regclass('half') as there`);
    expect((half as { rows: unknown[] }).rows).toEqual([{ there: null }]);
    expect(await migrate(db)).toEqual({ ok: true, value: 0 });
    await database.value.close();
  }, 60_000);

  const refusedWhy = async (at: string, mayMake = true) => {
    const opened = await openLaboratory(at, { ...wish, make: mayMake ? make : null });
    if (opened.ok) await opened.value.close();
    return opened.ok ? 'opened' : opened.refusal.why;
  };

  it('refuses what is not one, and touches nothing there', async () => {
    const missing = path.join(root, 'missing');
    expect(await refusedWhy(missing, false)).toBe('no-laboratory');
    expect(fs.existsSync(missing)).toBe(false);
    const file = path.join(root, 'file');
    fs.writeFileSync(file, '');
    expect(await refusedWhy(file)).toBe('not-a-folder');
    const holidays = path.join(root, 'holidays');
    fs.mkdirSync(holidays);
    fs.writeFileSync(path.join(holidays, 'beach.jpg'), '');
    expect(await refusedWhy(holidays)).toBe('not-empty');
    expect(fs.readdirSync(holidays)).toEqual(['beach.jpg']);
  });

  it('refuses a card from a newer version, a broken one and a folder without its database', async () => {
    const card = path.join(folder, 'laboratory.json');
    const good = fs.readFileSync(card, 'utf8');
    fs.writeFileSync(card, JSON.stringify({ ...JSON.parse(good), layout: 99 }));
    expect(await refusedWhy(folder)).toBe('newer-layout');
    fs.writeFileSync(card, '{"format":');
    expect(await refusedWhy(folder)).toBe('not-a-laboratory');
    fs.writeFileSync(card, good);
    fs.renameSync(path.join(folder, 'database'), path.join(root, 'away'));
    expect(await refusedWhy(folder)).toBe('no-database');
    fs.renameSync(path.join(root, 'away'), path.join(folder, 'database'));
    fs.writeFileSync(path.join(folder, 'database', 'PG_VERSION'), '17\n');
    expect(await refusedWhy(folder)).toBe('other-database-version');
    fs.writeFileSync(path.join(folder, 'database', 'PG_VERSION'), '18\n');
    expect(await refusedWhy(folder, false)).toBe('opened');
  }, 60_000);

  it('makes again what was killed while it was made', async () => {
    const half = path.join(root, 'half');
    fs.mkdirSync(path.join(half, 'database'), { recursive: true });
    fs.writeFileSync(path.join(half, 'database', 'PG_VERSION'), '18\n');
    expect(await refusedWhy(half)).toBe('opened');
    expect(fs.existsSync(path.join(half, 'laboratory.json'))).toBe(true);
  }, 120_000);
});
