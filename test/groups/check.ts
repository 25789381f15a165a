/** The laboratory's own check, on a group's records and originals. */
import path from 'node:path';
import { type CheckReport, checkOpen, openGroup, systemClock, systemNames } from '../../src/store/index.ts';
import { given } from '../engines/small-study.ts';
import type { Group } from './group.ts';

export async function checkGroup(group: Pick<Group, 'database' | 'folder'>): Promise<CheckReport> {
  const opened = given(
    await openGroup({
      database: group.database,
      originals: path.join(group.folder, 'originals'),
      clock: systemClock,
      names: systemNames,
      make: null,
      connections: 2,
    }),
  );
  try {
    return await checkOpen(opened);
  } finally {
    await opened.close();
  }
}
