import { eq, isNotNull } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import { spectrumFile as t } from '../schema-spectra.ts';
import { type Database, first } from './database.ts';

const plain = <R extends { readonly turn: unknown }>({ turn: _, ...row }: R): Omit<R, 'turn'> => row;

export const spectrumShelf = (db: Database): Pick<Desk, 'spectrumFiles'> => ({
  spectrumFiles: {
    add: async (record) => void (await db.insert(t).values(record)),
    get: async (id) => {
      const row = first(await db.select().from(t).where(eq(t.id, id)));
      return row && plain(row);
    },
    ofStudy: async (study) =>
      (await db.select().from(t).where(eq(t.study, study)).orderBy(t.turn)).map(plain),
    ofParticle: async (particle) =>
      (await db.select().from(t).where(eq(t.particle, particle)).orderBy(t.turn)).map(plain),
    known: async () => (await db.select().from(t).where(isNotNull(t.material)).orderBy(t.turn)).map(plain),
    hashes: async () => (await db.select({ sha256: t.sha256 }).from(t)).map((row) => row.sha256),
  },
});
