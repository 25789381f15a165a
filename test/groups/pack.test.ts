import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { packStudy, type StudyRows, unpackStudy } from '../../src/actions/index.ts';
import { rowsOfStudy } from '../../src/actions/pack/pack-study.ts';
import { openGroup, studyRows, zipReader, zipWriter } from '../../src/store/index.ts';
import { packedStudy } from '../engines/packed-study.ts';
import { countedNames, tickingClock } from '../engines/pretended.ts';
import { given } from '../engines/small-study.ts';
import { postgresPrograms, startPostgres } from './postgres-server.ts';

const there = postgresPrograms() !== null;
if (!there) process.stdout.write('packing on a server skipped: no PostgreSQL programs found.\n');

/** Rows by table without what only keeps an order. */
async function plainRows(rows: StudyRows, study: string): Promise<unknown> {
  const { tables, shapes } = await rowsOfStudy(rows, study as never);
  return shapes.map(({ name, columns }) => {
    const kept = columns.filter((c) => !c.generated).map((c) => c.name);
    return [name, tables.get(name)!.map((row) => kept.map((column) => row[column]))];
  });
}

describe.skipIf(!there)('a study between a folder and a PostgreSQL server', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-group-pack-'));
  const ends: (() => Promise<unknown>)[] = [];
  afterAll(async () => {
    for (const end of ends.reverse()) await end();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('is the same on both, and packed there comes back the same', async () => {
    const server = await startPostgres();
    ends.push(() => server.stop());
    const packed = await packedStudy();
    ends.push(packed.close);
    const clock = tickingClock();
    const group = given(
      await openGroup({
        database: server.database('pack'),
        originals: path.join(folder, 'originals'),
        clock,
        names: countedNames(9),
        make: { name: 'Group', invented: true },
      }),
    );
    ends.push(group.close);
    const rows = studyRows(group.db);
    const { records, files } = group;
    const zip = await packed.reader();
    const brought = given(await unpackStudy({ records, files, rows, clock }, zip));
    await zip.close();
    expect(brought.sameClaim).toBe(true);
    expect(await plainRows(rows, packed.studyId)).toEqual(await plainRows(packed.home.rows, packed.studyId));

    const out = path.join(folder, 'back.zip');
    given(
      await packStudy({ records, files, rows, clock }, zipWriter(out), {
        study: packed.studyId,
        version: '1',
      }),
    );
    const away = await packed.laboratory();
    const back = given(await zipReader(out, '“back.zip”'));
    given(await unpackStudy(away, back));
    await back.close();
    expect(await plainRows(away.rows, packed.studyId)).toEqual(
      await plainRows(packed.home.rows, packed.studyId),
    );
  });
});
