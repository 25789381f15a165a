/** A small laboratory served on a free port of this machine, for journeys over HTTP. */
import { mkdtemp, rm } from 'node:fs/promises';
import http from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { PhotoWork, Tools } from '../../src/actions/index.ts';
import { photoTiles, photoWork, spectrumWork } from '../../src/decode/index.ts';
import { servedArchives } from '../../src/main/served-archives.ts';
import { type Serving, serve } from '../../src/server/index.ts';
import { openLaboratory, systemClock, systemNames } from '../../src/store/index.ts';
import { done } from '../../src/units/index.ts';
import { pretendedFinding, pretendedParticle } from '../engines/pretended.ts';
import { given, smallStudy } from '../engines/small-study.ts';

/** The same strewn places each time, so that two photographs may show the same pieces; pieces in a row look alike. */
const strewn = (at: number): [number, number] => [60 + ((at * 389) % 780), 60 + ((at * 211) % 520)];

/** Reads files for real and finds as many particles as the name says: “12 pieces.jpg” has twelve, in a row; or “12 strewn.jpg”. */
function readingWork(): PhotoWork {
  const real = photoWork();
  return {
    ...real,
    find: async ({ name }, wish, progress) => {
      progress?.(0.5);
      const [, number, how] = /^(\d+) (pieces|strewn)/.exec(name) ?? [];
      const pieces = Number(number ?? 0);
      // The first sizes are within the question's scope, from 50 µm.
      const particles = Array.from({ length: pieces }, (_, at) =>
        pretendedParticle(7 * at + 2, how === 'strewn' ? { centroidPx: strewn(at) } : {}),
      );
      return done(pretendedFinding(wish, particles));
    },
  };
}

export interface Answer {
  readonly status: number;
  readonly headers: http.IncomingHttpHeaders;
  readonly text: string;
  // biome-ignore lint/suspicious/noExplicitAny: answers are looked into by the tests, field by field
  readonly json: any;
}

export async function servedLaboratory(
  screens: string | null = null,
  addresses?: () => readonly { name: string; address: string }[],
) {
  const folder = await mkdtemp(join(tmpdir(), 'retentate-http-'));
  const open = given(
    await openLaboratory(join(folder, 'lab'), {
      clock: systemClock,
      names: systemNames,
      make: { name: 'Test laboratory', invented: true },
    }),
  );
  const work = readingWork();
  const tools: Tools = {
    records: open.records,
    files: open.files,
    work,
    clock: systemClock,
    names: systemNames,
  };
  const study = await smallStudy(tools);
  const told: string[] = [];
  const serving: Serving = await serve(
    {
      ...tools,
      laboratory: open.laboratory,
      version: '0.0.0',
      tiles: photoTiles(join(folder, 'tiles')),
      spectra: spectrumWork(),
      archives: servedArchives(tools, open.rows, '0.0.0'),
      person: study.person.id,
      screens,
      log: (text) => told.push(text),
    },
    0,
    addresses,
  );

  /** A request with any headers, Host and Origin too; fetch would not let them be set. */
  const ask = (
    method: string,
    path: string,
    body?: unknown,
    headers: Readonly<Record<string, string>> = {},
  ): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const bytes =
        body instanceof Uint8Array ? body : body === undefined ? null : Buffer.from(JSON.stringify(body));
      const type = body instanceof Uint8Array ? 'application/octet-stream' : 'application/json';
      const request = http.request(
        `${serving.address}${path}`,
        {
          method,
          // A refused body may cost the connection; the next request must not come by it.
          agent: false,
          headers: {
            ...(bytes ? { 'content-type': type, 'content-length': String(bytes.length) } : {}),
            ...headers,
          },
        },
        (response) => {
          const parts: Buffer[] = [];
          response.on('data', (part) => parts.push(part));
          response.on('end', () => {
            const text = Buffer.concat(parts).toString('utf8');
            const isJson = (response.headers['content-type'] ?? '').startsWith('application/json');
            resolve({
              status: response.statusCode ?? 0,
              headers: response.headers,
              text,
              json: isJson ? JSON.parse(text) : null,
            });
          });
        },
      );
      request.on('error', reject);
      request.end(bytes ?? undefined);
    });

  return {
    ...study,
    address: serving.address,
    laboratory: open,
    told,
    ask,
    put: (filter: string, name: string, bytes: Uint8Array) =>
      ask('PUT', `/api/filters/${filter}/photos?name=${encodeURIComponent(name)}`, bytes),
    /** Further runs with their filters, each photographed with so many pieces: enough of them make a claim. */
    async addRuns(counts: Readonly<Record<string, number>>, photograph: (at: number) => Promise<Uint8Array>) {
      const { json } = await ask('POST', `/api/studies/${study.study.id}/runs`, {
        runs: Object.keys(counts).map((name) => ({
          name,
          kind: name.startsWith('S') ? 'specimen-run' : 'act-control',
          edition: study.edition.id,
          on: '2026-01-05',
          ...(name.startsWith('S')
            ? { weighed: { specimen: study.specimen.id, mass_g: 50, mass_is: 'food-or-liquid' } }
            : {}),
        })),
      });
      for (const [at, run] of (json.runs as { id: string; name: string }[]).entries()) {
        const laid = await ask('POST', `/api/runs/${run.id}/filters`, {
          name: `filter ${run.name}`,
          pore_um: 10,
          effective_diameter_mm: 9,
          pitch_mm: 3.1,
        });
        const taken = await this.put(laid.json.id, `${counts[run.name]} pieces.jpg`, await photograph(at));
        await this.searched(taken.json.photo.id);
      }
    },
    /** Reads the photo until it has been searched. */
    async searched(photo: string) {
      for (let tries = 0; tries < 200; tries++) {
        const { json } = await ask('GET', `/api/photos/${photo}`);
        if (json.state === 'searched' || json.state === 'refused') return json;
        await new Promise((resolve) => setTimeout(resolve, 25));
      }
      throw new Error(`photo ${photo} was not searched in time`);
    },
    async close() {
      await serving.close();
      await work.close();
      await open.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
