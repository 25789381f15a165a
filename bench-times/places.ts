/**
 * How long each place of a large study takes to open: 200 runs, 60,000 particles, pretended and said so. The yardstick is a
 * study of six runs in the same laboratory, in the same run.
 */
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { addPortion } from '../src/actions/add-specimen.ts';
import { findOnPhoto } from '../src/actions/find-on-photo.ts';
import { importPhoto } from '../src/actions/import-photo.ts';
import type { Tools } from '../src/actions/index.ts';
import { layFilter, recordFraction } from '../src/actions/record-at-the-bench.ts';
import { recordRun } from '../src/actions/record-run.ts';
import { reportStudy } from '../src/actions/report-study.ts';
import { htmlOf } from '../src/report/index.ts';
import { serve } from '../src/server/index.ts';
import { openLaboratory, systemClock, systemNames } from '../src/store/index.ts';
import { refused } from '../src/units/index.ts';
import { photoBytes, pretendedWork } from '../test/engines/pretended.ts';
import { given, smallStudy } from '../test/engines/small-study.ts';
import { benchFirstPage, SCREENS } from './first-page.ts';

const RUNS = 200;
const PARTICLES = 300;

/** Adds runs, each with its filter and one searched photograph of 300 particles, until the study has 200. */
async function enlarge(tools: Tools, small: Awaited<ReturnType<typeof smallStudy>>): Promise<void> {
  const { study, specimen, edition, person } = small;
  for (let k = 0; k < RUNS; k++) {
    const own = k % 2 === 0;
    const portion = own
      ? given(
          await addPortion(tools, {
            specimen: specimen.id,
            name: `portion ${k}`,
            massG: 50,
            massIs: 'food-or-liquid',
            pieces: null,
            note: '',
          }),
        )
      : null;
    const run = given(
      await recordRun(tools, {
        study: study.id,
        edition: edition.id,
        kind: own ? 'specimen' : 'act-control',
        name: `run ${k}`,
        portion: portion?.id ?? null,
        spike: null,
        day: '2026-01-05',
        session: String(Math.floor(k / 20)),
        by: person.id,
        note: '',
      }),
    );
    given(
      await recordFraction(tools, {
        run: run.id,
        kind: 'passed',
        volumeMl: 200,
        place: '',
        fate: 'examined',
        note: '',
      }),
    );
    const filter = given(
      await layFilter(tools, {
        run: run.id,
        fraction: null,
        name: `filter ${k}`,
        material: '',
        poreUm: 10,
        effectiveDiameterMm: 9,
        pitchMm: 3.1,
        lot: '',
        examinedStated: null,
        note: '',
      }),
    );
    const { photo } = given(
      await importPhoto(tools, {
        filter: filter.id,
        source: { bytes: photoBytes(PARTICLES, `run ${k}`) },
        name: `run ${k}.png`,
        by: person.id,
      }),
    );
    given(await findOnPhoto(tools, { photo: photo.id }));
  }
}

const VIEWS = ['', '/standing', '/runs', '/filters', '/marks', '/claim', '/published', '/claims/{specimen}'];

interface Took {
  readonly wallMs: number;
  /** Of this process with the database in it; on a busy machine the truer one. */
  readonly cpuMs: number;
}

async function middleOf(ask: () => Promise<void>): Promise<Took> {
  const wall: number[] = [];
  const cpu: number[] = [];
  for (let k = 0; k < 5; k++) {
    const from = performance.now();
    const used = process.cpuUsage();
    await ask();
    wall.push(performance.now() - from);
    const { user, system } = process.cpuUsage(used);
    cpu.push((user + system) / 1000);
  }
  const middle = (of: number[]) => of.sort((x, y) => x - y)[2]!;
  return { wallMs: middle(wall), cpuMs: middle(cpu) };
}

const told = (large: Took, small: Took): string =>
  `${large.wallMs.toFixed(0)} ms (${large.cpuMs.toFixed(0)} ms of CPU), ${(large.cpuMs / small.cpuMs).toFixed(1)} × that of six runs`;

export async function benchPlaces(print: (line: string) => void): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'retentate-places-'));
  const surroundings = { clock: systemClock, names: systemNames };
  const open = given(
    await openLaboratory(join(folder, 'lab'), { ...surroundings, make: { name: 'Large', invented: true } }),
  );
  const tools: Tools = { records: open.records, files: open.files, work: pretendedWork(), ...surroundings };
  try {
    const few = await smallStudy(tools, 'Six runs');
    const many = await smallStudy(tools, 'Two hundred runs');
    const from = performance.now();
    await enlarge(tools, many);
    print(
      `places: ${RUNS} runs with ${RUNS * PARTICLES} particles entered in ${((performance.now() - from) / 1000).toFixed(0)} s`,
    );
    const serving = await serve(
      {
        ...tools,
        laboratory: open.laboratory,
        version: '0',
        tiles: {
          tile: async () => refused({ why: 'no-tile', message: 'no tiles here' }),
          blind: async () => refused({ why: 'no-tile', message: 'no tiles here' }),
        },
        person: few.person.id,
        screens: existsSync(join(SCREENS, 'index.html')) ? SCREENS : null,
        log: print,
      },
      0,
    );
    const get = (of: Awaited<ReturnType<typeof smallStudy>>, view: string) => async () => {
      const path = `/api/studies/${of.study.id}${view.replace('{specimen}', of.specimen.id)}`;
      const answer = await fetch(serving.address + path);
      if (!answer.ok) throw new Error(`${view}: ${answer.status}`);
      await answer.arrayBuffer();
    };
    for (const view of VIEWS) {
      const small = await middleOf(get(few, view));
      const large = await middleOf(get(many, view));
      print(`places, ${view || '/'}: ${told(large, small)} (goal 1000 ms)`);
    }
    if (existsSync(join(SCREENS, 'index.html'))) {
      await benchFirstPage(print, serving.address, [
        ['the list of studies', '/'],
        ['a study of six runs', `/studies/${few.study.id}`],
        [`a study of ${RUNS} runs`, `/studies/${many.study.id}`],
      ]);
    } else print('first page: skipped; built screens (npm run build) are needed.');
    await serving.close();
    const reported = (of: typeof few) => async () => {
      const cutter = { cut: async () => refused({ why: 'no-pictures', message: 'no pictures here' }) };
      const wish = { study: of.study.id, program: 'bench', picturesPerRun: 0 };
      htmlOf(given(await reportStudy({ ...tools, cutter }, wish)).report, null);
    };
    const small = await middleOf(reported(few));
    const large = await middleOf(reported(many));
    print(`places, report without pictures: ${told(large, small)}`);
  } finally {
    await open.close();
    await rm(folder, { recursive: true, force: true });
  }
}
