/** A laboratory that an earlier version left opens, on either engine: nothing is lost, and the claim is the same. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countedSizes, countStudy, markParticles, standing } from '../../src/actions/index.ts';
import { checkOpen, openGroup, openLaboratory, systemClock, systemNames } from '../../src/store/index.ts';
import { MIGRATIONS } from '../../src/store/migrations/index.ts';
import { pretendedWork } from '../engines/pretended.ts';
import { given } from '../engines/small-study.ts';
import { EARLIER, earlierLaboratories } from './earlier.ts';
import { layDatabase, layFolder, layOriginals } from './earlier-places.ts';
import { type PostgresServer, postgresPrograms, startPostgres } from './postgres-server.ts';

type Opened = Parameters<typeof checkOpen>[0] & { close(): Promise<void> };

const all = earlierLaboratories();
/** Migrations of one release come together; their laboratories are kept when it is made. */
const MAY_WAIT = 4;

describe('laboratories of earlier versions', () => {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-earlier-'));
  const at = (name: string) => path.join(home, name);
  const surroundings = { clock: systemClock, names: systemNames, make: null };
  const claims = new Set<string>();
  let server: PostgresServer | null = null;
  beforeAll(async () => {
    if (postgresPrograms() !== null) server = await startPostgres();
    layOriginals(at('originals'));
  });
  afterAll(async () => {
    await server?.stop();
    fs.rmSync(home, { recursive: true, force: true });
  });

  it('are kept for each migration; the newest may wait for a release', () => {
    const names = MIGRATIONS.map(({ name }) => name);
    expect(names.slice(0, all.length)).toEqual(all.map(({ name }) => name));
    expect(all.length, 'run: npx tsx test/groups/earlier.ts').toBeGreaterThanOrEqual(names.length - MAY_WAIT);
  });

  async function isWhole(opened: Opened): Promise<void> {
    const { records, files } = opened;
    const tools = { records, files, work: pretendedWork(), clock: systemClock, names: systemNames };
    const before = await checkOpen(opened);
    expect(before).toMatchObject({ photos: EARLIER.photos, marks: EARLIER.marks, unnamed: [], problems: [] });
    const [study] = await records.look((look) => look.studies.list());
    expect(study!.name).toBe(EARLIER.study);
    const stands = given(await standing(tools, { study: study!.id }));
    claims.add(JSON.stringify(stands.specimens.map(({ claim, judged }) => [claim, judged])));
    const sizes = await records.look(async (look) => [
      (await countedSizes(look, study!)).sizeFromUm,
      (await countStudy(look, study!)).sizeFromUm,
    ]);
    expect(sizes[0]).toBe(sizes[1]);
    // All that was asked of every version gives one answer; that of the oldest is among them.
    expect(claims.size).toBe(1);
    expect(stands.specimens[0]!.claim.sentence).toMatch(/\.$/);
    // The work goes on.
    const [photo] = await records.look((look) => look.photos.ofStudy(study!.id));
    const finding = await records.look((look) => look.findings.newest(photo!.id));
    const pieces = await records.look((look) => look.particles.ofFinding(finding!.id));
    const particles = pieces.map(({ id }) => id);
    given(
      await markParticles(tools, {
        photo: photo!.id,
        particles,
        decision: { kind: 'drop' },
        by: study!.by,
      }),
    );
    expect(await checkOpen(opened)).toMatchObject({ marks: EARLIER.marks + 1, problems: [] });
  }

  describe.each(all)('$name', ({ name, sql }) => {
    it('opens from a folder', async () => {
      await layFolder(at(name), sql, at('empty'));
      for (const again of [false, true]) {
        const lab = given(await openLaboratory(at(name), surroundings));
        if (again) expect((await checkOpen(lab)).marks).toBe(EARLIER.marks + 1);
        else await isWhole(lab);
        await lab.close();
      }
    });

    it.skipIf(postgresPrograms() === null)('opens on a server', async () => {
      const database = server!.database(name.replace('-', '_').replaceAll('-', '_'));
      await layDatabase(database, sql);
      const lab = given(await openGroup({ database, originals: at('originals'), ...surroundings }));
      await isWhole(lab);
      await lab.close();
    });
  });
});
