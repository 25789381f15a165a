/** A laboratory carried as a whole: folder → server → folder, and by a backup; the same at every stop. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findOnPhoto } from '../../src/actions/find-on-photo.ts';
import { importPhoto } from '../../src/actions/import-photo.ts';
import { markByHand } from '../../src/actions/mark-by-hand.ts';
import { standing } from '../../src/actions/standing.ts';
import { undo } from '../../src/actions/undo.ts';
import { wholeTools } from '../../src/main/whole-laboratory.ts';
import { checkOpen, openLaboratory, systemClock, systemNames } from '../../src/store/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from '../engines/pretended.ts';
import { given, smallStudy } from '../engines/small-study.ts';
import { type PostgresServer, postgresPrograms, startPostgres } from './postgres-server.ts';

const there = postgresPrograms() !== null;
const told = () => {};
const whole = wholeTools('0.0.0');

describe('a laboratory as a whole', () => {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-whole-'));
  const at = (name: string) => path.join(home, name);
  const surroundings = { clock: systemClock, names: systemNames, make: null };
  let study: string;
  let server: PostgresServer | null = null;

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const lab = given(
      await openLaboratory(at('first'), { clock, names, make: { name: 'Carried', invented: true } }),
    );
    const tools = { records: lab.records, files: lab.files, work: pretendedWork(), clock, names };
    const small = await smallStudy(tools);
    study = small.study.id;
    const by = small.person.id;
    for (const [k, filter] of small.filters.entries()) {
      const source = { bytes: photoBytes(k + 2, `whole ${k}`) };
      const { photo } = given(
        await importPhoto(tools, { filter: filter.id, source, name: `=photo ${k}.png`, by }),
      );
      const found = given(await findOnPhoto(tools, { photo: photo.id }));
      const [piece] = await tools.records.look((look) => look.particles.ofFinding(found.finding.id));
      const outline = [
        [0.1, 0.2],
        [30.3, 0],
        [30, 30.7],
      ] as const;
      given(
        await markByHand(tools, {
          photo: photo.id,
          by,
          hand: { deed: 'redraw', particle: piece!.id, outline },
        }),
      );
    }
    given(await undo(tools, { study, by }));
    await lab.close();
  }, 120_000);
  afterAll(async () => {
    await server?.stop();
    fs.rmSync(home, { recursive: true, force: true });
  });

  const claims = async (folder: string) => {
    const lab = given(await openLaboratory(at(folder), surroundings));
    try {
      expect((await checkOpen(lab)).problems).toEqual([]);
      const stands = given(await standing({ records: lab.records, clock: systemClock } as never, { study }));
      return JSON.stringify([lab.laboratory, stands.specimens.map(({ claim, judged }) => [claim, judged])]);
    } finally {
      await lab.close();
    }
  };

  it.skipIf(!there)('goes to a server and back, the same to the last digit', async () => {
    server = await startPostgres();
    const database = server.database('carried');
    const out = given(await whole.move(at('first'), database, { originals: at('shared'), told }));
    expect(out.originals).toBe(6);
    expect(out.rows).toBeGreaterThan(60);
    const back = given(await whole.move(database, at('back'), { originals: at('shared'), told }));
    expect(back).toEqual(out);
    expect(await claims('back')).toBe(await claims('first'));
    const again = await whole.move(at('first'), database, { originals: at('shared'), told });
    expect(again).toMatchObject({ ok: false, refusal: { why: 'not-empty' } });
    expect(await whole.move(database, at('x'), { told })).toMatchObject({ refusal: { why: 'no-originals' } });
  });

  it('comes back from a backup; a damaged one is refused and leaves nothing', async () => {
    const file = at('kept.zip');
    const out = given(await whole.backup(at('first'), file, { told }));
    expect(given(await whole.restore(file, at('restored'), { told }))).toEqual(out);
    expect(await claims('restored')).toBe(await claims('first'));
    expect(await whole.restore(file, at('restored'), { told })).toMatchObject({
      refusal: { why: 'not-empty' },
    });
    const bytes = fs.readFileSync(file);
    const original = bytes.indexOf('whole 3');
    bytes[original + 6] = '9'.charCodeAt(0);
    fs.writeFileSync(at('damaged.zip'), bytes);
    expect((await whole.restore(at('damaged.zip'), at('from-damaged'), { told })).ok).toBe(false);
    expect(fs.existsSync(at('from-damaged'))).toBe(false);
    fs.writeFileSync(at('cut.zip'), bytes.subarray(0, bytes.length - 100));
    expect((await whole.restore(at('cut.zip'), at('from-cut'), { told })).ok).toBe(false);
    expect(await whole.backup(at('nowhere'), at('n.zip'), { told })).toMatchObject({
      refusal: { why: 'no-laboratory' },
    });
  });
});
