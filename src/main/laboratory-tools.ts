/** Opening, serving and checking a laboratory folder, for the commands. */
import { standing } from '../actions/index.ts';
import type { LaboratoryTools } from '../cli/index.ts';
import { serve } from '../server/index.ts';
import { checkOpen, openGroup, openLaboratory, systemClock, systemNames } from '../store/index.ts';
import { done } from '../units/index.ts';
import { type AtWork, atWork, served } from './surroundings.ts';

export function laboratoryTools(version: string, log: (text: string) => void): LaboratoryTools {
  return {
    async open(folder, port) {
      const here = await atWork(folder, { name: 'Our laboratory', invented: false });
      if (!here.ok) return here;
      const { open } = here.value;
      const serving = await serve(served(here.value, version, log), port);
      open.announce(serving.address);
      return done({
        address: serving.address,
        folder: open.folder,
        name: open.laboratory.name,
        made: open.made,
        studies: await studiesOf(here.value),
        async close() {
          await serving.close();
          await here.value.close();
        },
      });
    },
    async report(folder, wish) {
      const { makeReport } = await import('./report-file.ts');
      return makeReport(folder, wish, version);
    },
    async demo(folder, told) {
      const { makeDemo } = await import('./demo-laboratory.ts');
      return makeDemo(folder, version, told);
    },
    async check(place, originals, told) {
      const wish = { clock: systemClock, names: systemNames, make: null };
      const opened = originals
        ? await openGroup({ ...wish, database: place, originals })
        : await openLaboratory(place, wish);
      if (!opened.ok) return opened;
      try {
        return done(await checkOpen(opened.value, told));
      } finally {
        await opened.value.close();
      }
    },
  };
}

/** Where each study of a laboratory stands, as one sentence. */
async function studiesOf({ tools }: AtWork) {
  const studies = await tools.records.look((look) => look.studies.list());
  const stands = [];
  for (const { id, name } of studies) {
    const outcome = await standing(tools, { study: id });
    const first = outcome.ok ? outcome.value.specimens[0] : undefined;
    if (first) stands.push({ study: name, state: first.claim.state, sentence: first.claim.sentence });
  }
  return stands;
}
