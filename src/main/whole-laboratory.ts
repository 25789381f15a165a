/** A laboratory wherever it is, a folder or a database, for moving, backing up and restoring. */
import { rm, stat } from 'node:fs/promises';
import { basename, dirname, resolve } from 'node:path';
import { backUp, moveLaboratory, type Place, readBackup, restoreBackup } from '../actions/index.ts';
import type { WholeTools } from '../cli/index.ts';
import {
  openGroup,
  openLaboratory,
  studyRows,
  systemClock,
  systemNames,
  zipReader,
  zipWriter,
} from '../store/index.ts';
import type { Id, Instant, Laboratory } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';

interface OpenPlace extends Place {
  readonly laboratory: Laboratory;
  readonly made: boolean;
  close(): Promise<void>;
  /** Takes away what was made here, when it was made for something that failed. */
  unmake(): Promise<void>;
}

const isDatabase = (place: string) => /^postgres(ql)?:\/\//.test(place);

/** `like`: make it, as the same laboratory; null: it must be there. */
async function openPlace(
  place: string,
  originals: string | undefined,
  like: Pick<Laboratory, 'id' | 'name' | 'invented' | 'madeAt'> | null,
): Promise<Outcome<OpenPlace>> {
  const clock = like ? { now: (): Instant => like.madeAt } : systemClock;
  const names = like ? { next: <K extends string>() => like.id as string as Id<K> } : systemNames;
  const make = like && { name: like.name, invented: like.invented };
  if (!isDatabase(place)) {
    const opened = await openLaboratory(place, { clock, names, make });
    if (!opened.ok) return opened;
    const { rows, files, laboratory, made, close } = opened.value;
    const unmake = () => rm(resolve(place), { recursive: true, force: true });
    return done({ rows, files, laboratory, made, close, unmake });
  }
  if (!originals) {
    return refused({
      why: 'no-originals',
      message:
        'Say with --originals where the photographs of the database lie: a folder, or s3://bucket/prefix.',
    });
  }
  const opened = await openGroup({ database: place, originals, clock, names, make });
  if (!opened.ok) return opened;
  const { db, files, laboratory, made, close } = opened.value;
  return done({ rows: studyRows(db), files, laboratory, made, close, unmake: async () => {} });
}

/** Makes the place anew as the same laboratory and fills it; a place that is not new is left as it is. */
async function filled<T>(
  place: string,
  originals: string | undefined,
  like: Pick<Laboratory, 'id' | 'name' | 'invented' | 'madeAt'>,
  fill: (to: Place) => Promise<Outcome<T>>,
): Promise<Outcome<T>> {
  const to = await openPlace(place, originals, like);
  if (!to.ok) return to;
  let whole = false;
  try {
    if (!to.value.made && to.value.laboratory.id !== like.id) {
      return refused({
        why: 'not-empty',
        message: `There is a laboratory “${to.value.laboratory.name}” at that place already; choose a new one.`,
      });
    }
    const outcome = await fill(to.value);
    whole = outcome.ok;
    return outcome;
  } finally {
    await to.value.close();
    if (to.value.made && !whole) await to.value.unmake();
  }
}

export function wholeTools(version: string): WholeTools {
  return {
    async move(from, to, wish) {
      const source = await openPlace(from, wish.originals, null);
      if (!source.ok) return source;
      try {
        return await filled(to, wish.originalsTo ?? wish.originals, source.value.laboratory, (place) =>
          moveLaboratory(source.value, place, wish.told),
        );
      } finally {
        await source.value.close();
      }
    },
    async backup(from, file, wish) {
      const parent = await stat(dirname(resolve(file))).catch(() => null);
      if (!parent?.isDirectory()) {
        return refused({
          why: 'no-folder',
          message: `${dirname(resolve(file))} is not a folder; name a file in one.`,
        });
      }
      const source = await openPlace(from, wish.originals, null);
      if (!source.ok) return source;
      try {
        return await backUp(source.value, zipWriter(resolve(file)), {
          version,
          at: systemClock.now(),
          told: wish.told,
        });
      } finally {
        await source.value.close();
      }
    },
    async restore(file, to, wish) {
      const archive = await zipReader(file, `“${basename(file)}”`);
      if (!archive.ok) return archive;
      try {
        const card = await readBackup(archive.value);
        if (!card.ok) return card;
        const { id, name, invented, madeAt } = card.value.laboratory;
        const like = {
          id: id as Laboratory['id'],
          name,
          invented,
          madeAt: new Date(madeAt).toISOString() as Instant,
        };
        return await filled(to, wish.originals, like, (place) =>
          restoreBackup(archive.value, card.value, place, wish.told),
        );
      } finally {
        await archive.value.close();
      }
    },
  };
}
