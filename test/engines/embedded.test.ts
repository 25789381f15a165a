import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { openLaboratory } from '../../src/store/index.ts';
import { countedNames, pretendedWork, tickingClock } from './pretended.ts';
import { recordsContract } from './records-contract.ts';
import { given } from './small-study.ts';

recordsContract('the embedded database', async () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-embedded-'));
  const clock = tickingClock();
  const names = countedNames();
  const laboratory = given(
    await openLaboratory(folder, { clock, names, make: { name: 'Contract', invented: true } }),
  );
  const { records, files } = laboratory;
  return {
    tools: { records, files, work: pretendedWork(), clock, names },
    close: async () => {
      await laboratory.close();
      fs.rmSync(folder, { recursive: true, force: true });
    },
  };
});
