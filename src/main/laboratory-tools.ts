/** Opening, serving and checking a laboratory folder, for the commands. */
import type { LaboratoryTools } from '../cli/index.ts';
import { serve } from '../server/index.ts';
import { checkOpen, openLaboratory, systemClock, systemNames } from '../store/index.ts';
import { done } from '../units/index.ts';
import { atWork, served } from './surroundings.ts';

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
        async close() {
          await serving.close();
          await here.value.close();
        },
      });
    },
    async demo(folder, told) {
      const { makeDemo } = await import('./demo-laboratory.ts');
      return makeDemo(folder, version, told);
    },
    async check(folder, told) {
      const opened = await openLaboratory(folder, { clock: systemClock, names: systemNames, make: null });
      if (!opened.ok) return opened;
      try {
        return done(await checkOpen(opened.value, told));
      } finally {
        await opened.value.close();
      }
    },
  };
}
