/** The group's server and its workers, for the commands. */
import { availableParallelism, hostname } from 'node:os';
import { join } from 'node:path';
import { codeForLogin, invite, searchForGroup, setPhotoAside, type Tools } from '../actions/index.ts';
import type { GroupTools } from '../cli/index.ts';
import { compileInPlace, findingCrew, photoTiles, photoWork, spectrumWork } from '../decode/index.ts';
import { serve } from '../server/index.ts';
import { openGroup, photoJobs, secrets, studyRows, systemClock, systemNames } from '../store/index.ts';
import { done } from '../units/index.ts';
import { planDesk } from './plan-desk.ts';
import { servedReports } from './report-file.ts';
import { servedArchives } from './served-archives.ts';
import { screensFolder } from './surroundings.ts';

/** No question of a server or a worker takes the database so long. */
const PATIENCE_MS = 20_000;

const surroundings = { clock: systemClock, names: systemNames };

export function groupTools(version: string, log: (text: string) => void): GroupTools {
  return {
    async serve(wish) {
      const opened = await openGroup({
        ...surroundings,
        database: wish.database,
        originals: wish.originals,
        make: { name: wish.name, invented: false },
        connections: 20,
        patienceMs: PATIENCE_MS,
      });
      if (!opened.ok) return opened;
      const { laboratory, made, records, files, pool } = opened.value;
      const work = photoWork({ work: join(wish.cache, 'work'), tiles: join(wish.cache, 'tiles') });
      const tools: Tools = { records, files, work, ...surroundings };
      const jobs = await photoJobs({ pool, database: wish.database, log, keeps: true });
      const people = await records.look((look) => look.accounts.list());
      // Nobody could let anybody in: the first owner's invitation is told to whoever starts the server.
      const owner = people.some((one) => one.role === 'owner' && one.closedAt === null);
      const first = owner
        ? null
        : await invite(
            { ...tools, secrets },
            { role: 'owner', note: 'the first owner', by: null, person: null },
          );
      if (first && !first.ok) return first;
      const serving = await serve(
        {
          ...tools,
          laboratory,
          version,
          tiles: photoTiles(join(wish.cache, 'tiles')),
          spectra: spectrumWork(),
          archives: servedArchives(tools, studyRows(opened.value.db), version),
          reports: servedReports(tools, version),
          planner: planDesk(),
          // Overruled by whoever is signed in.
          person: '00000000-0000-0000-0000-000000000000',
          screens: screensFolder(),
          log,
          group: { secrets, jobs, site: wish.site, host: wish.host },
        },
        wish.port,
      );
      return done({
        address: serving.address,
        name: laboratory.name,
        made,
        firstCode: first?.value.code ?? null,
        async close() {
          await serving.close();
          await jobs.close();
          await work.close();
          await opened.value.close();
        },
      });
    },
    async codeFor({ database, originals, login }) {
      const opened = await openGroup({ ...surroundings, database, originals, make: null, connections: 1 });
      if (!opened.ok) return opened;
      const { records, close } = opened.value;
      const made = await codeForLogin({ records, ...surroundings, secrets }, login);
      await close();
      return made.ok ? done({ code: made.value.code, endsAt: made.value.invitation.endsAt }) : made;
    },
    async work(wish) {
      const opened = await openGroup({
        ...surroundings,
        database: wish.database,
        originals: wish.originals,
        make: null,
        connections: 6,
        patienceMs: PATIENCE_MS,
      });
      if (!opened.ok) return opened;
      const { laboratory, records, files, pool } = opened.value;
      // Whoever leaves cores to others is not to take them in another way.
      if (wish.cores !== null && wish.cores < availableParallelism()) compileInPlace();
      const work = photoWork(
        { work: join(wish.cache, 'work'), tiles: join(wish.cache, 'tiles') },
        findingCrew(wish.cores ?? undefined),
      );
      const tools: Tools = { records, files, work, ...surroundings };
      const jobs = await photoJobs({ pool, database: wish.database, log, keeps: true });
      const worker = `${hostname()} ${process.pid}`;
      await jobs.work(
        async ({ photo }, tries) => {
          wish.told(`searching ${photo}${tries > 1 ? `, try ${tries}` : ''}`);
          const outcome = await searchForGroup(tools, jobs, { photo, tries, worker });
          wish.told(outcome.ok ? `done ${photo}` : `${photo}: ${outcome.refusal.message}`);
        },
        async (photo, reason) => {
          log(`set aside ${photo}: ${reason}`);
          await setPhotoAside(tools, jobs, { photo, reason });
        },
        wish.atOnce,
      );
      return done({
        name: laboratory.name,
        async close() {
          await jobs.close();
          await work.close();
          await opened.value.close();
        },
      });
    },
  };
}
