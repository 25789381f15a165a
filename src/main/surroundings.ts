import { existsSync } from 'node:fs';
import { userInfo } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { addPerson, type Tools } from '../actions/index.ts';
import { photoTiles, photoWork, spectrumWork } from '../decode/index.ts';
import type { Served } from '../server/index.ts';
import { type OpenLaboratory, openLaboratory, systemClock, systemNames } from '../store/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { planDesk } from './plan-desk.ts';
import { servedReports } from './report-file.ts';
import { servedArchives } from './served-archives.ts';

/** A laboratory that this process has open, with everything that the deeds need. */
export interface AtWork {
  readonly open: OpenLaboratory;
  readonly tools: Tools;
  /** Who works here, on a laboratory of one person: entered at the first opening by the name of the account. */
  readonly person: string;
  close(): Promise<void>;
}

export async function atWork(
  folder: string,
  make: { readonly name: string; readonly invented: boolean } | null,
): Promise<Outcome<AtWork>> {
  const opened = await openLaboratory(folder, { clock: systemClock, names: systemNames, make });
  if (!opened.ok) return opened;
  const open = opened.value;
  const work = photoWork({ tiles: tilesOf(open) });
  const tools: Tools = {
    records: open.records,
    files: open.files,
    work,
    clock: systemClock,
    names: systemNames,
  };
  const close = async (): Promise<void> => {
    await work.close();
    await open.close();
  };
  const person = await addPerson(tools, { name: accountName() });
  if (!person.ok) {
    await close();
    return person;
  }
  return done({ open, tools, person: person.value.id, close });
}

/** Tiles can be thrown away and are made again. */
const tilesOf = (open: OpenLaboratory): string => join(open.folder, 'tiles');

/** The account's name; machines without accounts (some containers) have none to give. */
function accountName(): string {
  try {
    return userInfo().username || 'somebody';
  } catch {
    return 'somebody';
  }
}

/** What the server needs beyond the deeds' tools. */
export function served(
  { open, tools, person }: AtWork,
  version: string,
  log: (text: string) => void,
): Served {
  return {
    ...tools,
    laboratory: open.laboratory,
    version,
    tiles: photoTiles(tilesOf(open)),
    spectra: spectrumWork(),
    archives: servedArchives(tools, open.rows, version),
    reports: servedReports(tools, version),
    planner: planDesk(),
    person,
    screens: screensFolder(),
    log,
  };
}

/** The built screens lie in dist/web, seen from the source and from the compiled file alike. */
export function screensFolder(): string | null {
  const from = import.meta.url.endsWith('.ts') ? '../../dist/web' : '../../web';
  const folder = fileURLToPath(new URL(from, import.meta.url));
  return existsSync(join(folder, 'index.html')) ? folder : null;
}
