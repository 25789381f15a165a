/** Packing and bringing in while a laboratory is served: archives pass through a folder of their own, cleared afterwards. */
import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { packStudy, type StudyRows, type Tools, unpackStudy } from '../actions/index.ts';
import type { Archives } from '../server/index.ts';
import { zipReader, zipWriter } from '../store/index.ts';
import { done } from '../units/index.ts';

export function servedArchives(tools: Tools, rows: StudyRows, version: string): Archives {
  const own = { ...tools, rows };
  return {
    async pack(study) {
      const folder = await mkdtemp(join(tmpdir(), 'retentate-pack-'));
      const discard = () => rm(folder, { recursive: true, force: true });
      try {
        const path = join(folder, 'study.zip');
        const packed = await packStudy(own, zipWriter(path), { study, version });
        if (packed.ok) return done({ path, name: `${fileName(packed.value.study)}.zip`, discard });
        await discard();
        return packed;
      } catch (failure) {
        await discard();
        throw failure;
      }
    },
    async unpack(archive, as) {
      const folder = await mkdtemp(join(tmpdir(), 'retentate-unpack-'));
      try {
        const path = join(folder, 'study.zip');
        await pipeline(archive, createWriteStream(path));
        const reader = await zipReader(path, 'The archive');
        if (!reader.ok) return reader;
        try {
          return await unpackStudy(own, reader.value, as === undefined ? {} : { as });
        } finally {
          await reader.value.close();
        }
      } finally {
        await rm(folder, { recursive: true, force: true });
      }
    },
  };
}

/** A study's name as a file's: letters, digits and dashes. */
const fileName = (study: string): string =>
  study
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60) || 'study';
