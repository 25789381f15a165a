import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { syncTree } from './durable-folder.ts';
import { openEmbedded } from './embedded-postgres.ts';

type Embedded = Extract<Awaited<ReturnType<typeof openEmbedded>>, { ok: true }>['value'];

describe('the embedded database on a durable folder', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-durable-'));
  let pg: Embedded;

  beforeAll(async () => {
    const opened = await openEmbedded(path.join(folder, 'database'));
    if (!opened.ok) throw new Error(opened.refusal.message);
    pg = opened.value;
    await pg.exec('create table kept (n integer)');
  }, 120_000);
  afterAll(async () => {
    await pg.close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('syncs the disk once for every commit', async () => {
    const sync = vi.spyOn(fs, 'fsyncSync');
    for (let n = 0; n < 20; n += 1) await pg.query('insert into kept values ($1)', [n]);
    expect(sync).toHaveBeenCalledTimes(20);
    sync.mockClear();
    await pg.transaction(async (tx) => {
      for (let n = 0; n < 20; n += 1) await tx.query('insert into kept values ($1)', [n]);
    });
    expect(sync).toHaveBeenCalledTimes(1);
    sync.mockClear();
    await pg.query('select count(*) from kept');
    expect(sync).not.toHaveBeenCalled();
    sync.mockRestore();
  });

  it('runs with fsync on, in the way that reaches the disk', async () => {
    const { rows } = await pg.query<{ setting: string }>(
      "select setting from pg_settings where name in ('fsync', 'full_page_writes', 'synchronous_commit', 'wal_sync_method') order by name",
    );
    expect(rows.map((row) => row.setting)).toEqual(['on', 'on', 'on', 'fsync']);
  });

  it('refuses files of another major version', async () => {
    const other = path.join(folder, 'other');
    fs.mkdirSync(other);
    fs.writeFileSync(path.join(other, 'PG_VERSION'), '17\n');
    const opened = await openEmbedded(other);
    expect(opened).toMatchObject({ ok: false, refusal: { why: 'other-database-version' } });
  });
});

describe('syncTree', () => {
  it('goes through every file and folder', async () => {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-tree-'));
    fs.mkdirSync(path.join(folder, 'a', 'b'), { recursive: true });
    fs.writeFileSync(path.join(folder, 'a', 'b', 'c'), 'c');
    const open = vi.spyOn(fs.promises, 'open');
    await syncTree(folder);
    expect(open.mock.calls.map(([name]) => path.relative(folder, String(name))).sort()).toEqual([
      '',
      'a',
      path.join('a', 'b'),
      path.join('a', 'b', 'c'),
    ]);
    open.mockRestore();
    fs.rmSync(folder, { recursive: true });
  });
});
