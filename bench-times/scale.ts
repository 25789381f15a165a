/**
 * What a laboratory costs at size, from unit costs that were measured, and how long photographs wait, by simulation:
 * `npx tsx bench-times/scale.ts` writes docs/scale.md. The cost of marks comes from docs/load.json, which
 * `npm run test:groups -- --load` writes; that of a search from docs/search-cost.json, which `--measure` writes anew.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { loadavg } from 'node:os';
import { build } from '../scripts/prepare.mjs';
import { chanceOf } from '../test/engines/chance.ts';
import type { LoadFigures } from '../test/groups/load-table.ts';
import { largePhoto, PITCH_MM } from './imaging-photo.ts';
import { erlangC, type QueueTold, simulateQueue } from './queue-simulation.ts';

const SEARCH = 'docs/search-cost.json';
const LOAD = 'docs/load.json';

interface SearchCost {
  readonly on: string;
  readonly busy: number;
  readonly megapixels: number;
  readonly processor_s: number;
}

if (process.argv.includes('--measure')) {
  const busy = loadavg()[0]!;
  await build();
  const script = ['bench-times/imaging-run.mjs', await largePhoto(), String(PITCH_MM), '7'];
  const { megapixels, processor_s } = JSON.parse(
    execFileSync(process.execPath, script, { encoding: 'utf8' }),
  );
  const on = new Date().toISOString().slice(0, 10);
  writeFileSync(SEARCH, `${JSON.stringify({ on, busy, megapixels, processor_s }, null, 2)}\n`);
}
for (const [file, by] of [
  [SEARCH, 'npx tsx bench-times/scale.ts --measure'],
  [LOAD, 'npm run test:groups -- --load'],
] as const) {
  if (existsSync(file)) continue;
  process.stderr.write(`${file} is missing: run ${by} first.\n`);
  process.exit(1);
}
const search: SearchCost = JSON.parse(readFileSync(SEARCH, 'utf8'));
const { marks }: Pick<LoadFigures, 'marks'> = JSON.parse(readFileSync(LOAD, 'utf8'));

const UNIT = {
  searchCpuS: search.processor_s,
  marksPerSecond: marks.perSecond,
  /** Bytes of one 24-megapixel JPEG original: common practice, no source. */
  originalBytes: 10e6,
  /** Bytes of its tiles, which can be made again (`du` of a tiles folder: about a third of the original). */
  tileBytes: 4e6,
  /** Bytes a found particle takes in the database with its outline and indices (table size of the example, 290 corners a piece). */
  particleBytes: 4e3,
  /** Seconds of processor for all that lies behind a claim, and for a report without pictures, of 200 runs with 60,000 particles (`npm run bench`, places). */
  detailsCpuS: 0.7,
  reportCpuS: 1.2,
} as const;

/** A study as the example has it, in whole filters. */
const STUDY = {
  runs: 22,
  filtersARun: 1.3,
  photosAFilter: 12,
  particlesAPhoto: 40,
  marksAParticle: 1.3,
} as const;
const STUDIES_A_YEAR = 4;

const photos = STUDY.runs * STUDY.filtersARun * STUDY.photosAFilter;
const study = {
  photos,
  cpuH: (photos * UNIT.searchCpuS) / 3600,
  originalsGb: (photos * UNIT.originalBytes) / 1e9,
  tilesGb: (photos * UNIT.tileBytes) / 1e9,
  recordsMb: (photos * STUDY.particlesAPhoto * UNIT.particleBytes) / 1e6,
  marks: photos * STUDY.particlesAPhoto * STUDY.marksAParticle,
};
const figure = (n: number): string =>
  n >= 100 ? Math.round(n).toLocaleString('en-GB') : n >= 10 ? n.toFixed(0) : n.toPrecision(2);

const whole = (n: number): string => n.toLocaleString('en-GB');

const HOUR_S = 3600;
const WEEK_S = 7 * 24 * HOUR_S;
const SECONDS_A_YEAR = 365 * 24 * HOUR_S;

/**
 * Share of a working day’s photographs that are brought in each hour, from midnight on; none on two days of seven. People
 * photograph before noon and in the afternoon: common practice, no source.
 */
const DAY = [0, 0, 0, 0, 0, 0, 0, 0, 4, 10, 14, 14, 7, 11, 15, 13, 8, 4, 0, 0, 0, 0, 0, 0];
const DAY_SUM = DAY.reduce((sum, one) => sum + one, 0);
/** Times the mean of the week, in the hour that `at` lies in. */
const curve = (at: number): number => {
  const hour = Math.floor(at / HOUR_S) % (7 * 24);
  return hour >= 5 * 24 ? 0 : ((DAY[hour % 24]! / DAY_SUM) * 7 * 24) / 5;
};
const BUSIEST = (Math.max(...DAY) / DAY_SUM) * (24 * 7) * (1 / 5);

/** A worker dies in one search of so many (a machine restarted or out of memory): common practice, no source. */
const DEATHS = 1 / 500;
/** As the queue has it: silent for ten seconds, looked after every three; a service starts again after a minute. */
const [SILENT_S, BACK_S, TRIES] = [13, 60, 3];
/** Photographs are not alike: standard deviation of the logarithm of a search’s time. Common practice, no source. */
const SPREAD = 0.5;

/** A normal deviate (Box and Muller 1958). */
const normal = (chance: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - chance())) * Math.cos(2 * Math.PI * chance());

function waits(laboratories: number, workers: number, weeks: number): QueueTold {
  const chance = chanceOf(20_261_201 + laboratories + workers);
  const filtersASecond =
    (laboratories * STUDIES_A_YEAR * study.photos) / STUDY.photosAFilter / SECONDS_A_YEAR;
  return simulateQueue({
    workers,
    untilS: weeks * WEEK_S,
    // A filter’s photographs come together. Thinned from the busiest hour’s rate (Lewis and Shedler 1979).
    arrival(now) {
      for (let at = now; ; ) {
        at -= Math.log(1 - chance()) / (filtersASecond * BUSIEST);
        if (chance() * BUSIEST < curve(at)) return { at, photos: STUDY.photosAFilter };
      }
    },
    searchS: () => UNIT.searchCpuS * Math.exp(SPREAD * normal(chance) - SPREAD ** 2 / 2),
    dies: () => chance() < DEATHS,
    chance,
    silentS: SILENT_S,
    backS: BACK_S,
    tries: TRIES,
  });
}

function at(laboratories: number) {
  const studies = laboratories * STUDIES_A_YEAR;
  const photosASecond = (studies * study.photos) / SECONDS_A_YEAR;
  return {
    laboratories,
    photosAYear: studies * study.photos,
    /** Cores that are busy in the busiest hour, in the mean. */
    erlangs: photosASecond * BUSIEST * UNIT.searchCpuS,
    originalsTb: (studies * study.originalsGb) / 1e3,
    recordsGb: (studies * study.recordsMb) / 1e3,
    particles: studies * study.photos * STUDY.particlesAPhoto,
    marksAPeakSecond: (studies * study.marks * BUSIEST) / SECONDS_A_YEAR,
  };
}
const sizes = [10, 1_000, 100_000].map(at);
/** Each with a database of its own: what one bears was measured with both on one machine. */
const serversFor = ({ marksAPeakSecond }: ReturnType<typeof at>): number =>
  Math.max(1, Math.ceil(marksAPeakSecond / UNIT.marksPerSecond));
const large = sizes.at(-1)!;
const row = (what: string, of: (size: ReturnType<typeof at>) => string) =>
  `| ${what} | ${sizes.map(of).join(' | ')} |`;

const seconds = (s: number): string =>
  s === 0
    ? 'none'
    : s < 0.5
      ? '< 0.5 s'
      : s < 90
        ? `${figure(s)} s`
        : s < 5400
          ? `${figure(s / 60)} min`
          : `${figure(s / 3600)} h`;
const quantile = (sorted: Float64Array, q: number): number => sorted[Math.floor(q * (sorted.length - 1))]!;

/** Enough weeks for some hundred thousand photographs, no more than a year. */
const WEEKS = new Map([
  [10, 52],
  [1_000, 8],
  [100_000, 1],
]);
const queue = sizes.flatMap(({ laboratories, erlangs }) => {
  const weeks = WEEKS.get(laboratories)!;
  const least = Math.floor(erlangs) + 1;
  const crews = [
    ...new Set([
      least,
      Math.max(least + 1, Math.ceil(erlangs * 1.25)),
      Math.max(least + 2, Math.ceil(erlangs * 2)),
    ]),
  ];
  return crews.map((workers) => {
    const told = waits(laboratories, workers, weeks);
    const sorted = told.waitsS.toSorted();
    const mean = sorted.reduce((sum, wait) => sum + wait, 0) / sorted.length;
    const formula = (erlangC(workers, erlangs) * UNIT.searchCpuS) / (workers - erlangs);
    return `| ${[
      ...[laboratories, workers, told.photos].map(whole),
      ...[mean, quantile(sorted, 0.5), quantile(sorted, 0.95), sorted.at(-1)!].map(seconds),
      seconds(formula),
      `${(100 * told.busy).toFixed(told.busy < 0.1 ? 1 : 0)} %`,
      `${whole(told.searchedAgain)} · ${told.setAside}`,
    ].join(' | ')} |`;
  });
});

const page = `# What it costs at size, and what breaks first

Written by \`npx tsx bench-times/scale.ts\` from measured unit costs; the queue of photographs is simulated, with a seed.

## Unit costs

| | | from |
|---|---|---|
| search of a ${search.megapixels.toFixed(0)}-megapixel photograph | ${figure(UNIT.searchCpuS)} s of one core | measured ${search.on}, other work keeping ${search.busy.toFixed(1)} processes waiting or running (\`--measure\`) |
| marks that one server and its database take | ${figure(UNIT.marksPerSecond)} a second | ${figure(marks.marks)} marks of ${marks.people} people, measured ${marks.on}, other work keeping ${marks.busy.toFixed(1)} (\`load.json\`) |
| original | ${UNIT.originalBytes / 1e6} MB | common practice, no source |
| its tiles (can be made again) | ${UNIT.tileBytes / 1e6} MB | size of a folder of tiles |
| a particle in the database | ${UNIT.particleBytes / 1e3} kB | size of the example’s table, indices included |
| all that lies behind a claim, 200 runs with 60,000 particles | ${UNIT.detailsCpuS} s of one core | \`npm run bench\`, places |
| its report without pictures | ${UNIT.reportCpuS} s of one core | \`npm run bench\`, places |

## A study

${STUDY.runs} runs with ${STUDY.filtersARun} filters each, ${STUDY.photosAFilter} photographs a filter, ${STUDY.particlesAPhoto} particles a photograph: **${figure(study.photos)} photographs**, ${figure(study.cpuH)} hours of
one core, ${figure(study.originalsGb)} GB of originals, ${figure(study.tilesGb)} GB of tiles, ${figure(study.recordsMb)} MB of records, ${figure(study.marks)} marks. A filter costs ${figure((STUDY.photosAFilter * UNIT.searchCpuS) / 60)} minutes of one core.

## A year of ${STUDIES_A_YEAR} studies a laboratory

The busiest hour of the week has ${BUSIEST.toFixed(1)} × the mean: five days of seven, most in the late morning and the afternoon (common practice, no source).

| laboratories | ${sizes.map((s) => figure(s.laboratories)).join(' | ')} |
|---|---|---|---|
${row('photographs a year', (s) => figure(s.photosAYear))}
${row('cores busy with searching in the busiest hour, in the mean', (s) => figure(s.erlangs))}
${row('originals, TB a year', (s) => figure(s.originalsTb))}
${row('records, GB a year', (s) => figure(s.recordsGb))}
${row('particles a year', (s) => figure(s.particles))}
${row('marks a second in the busiest hour', (s) => figure(s.marksAPeakSecond))}
${row('servers with a database of their own that this takes', (s) => whole(serversFor(s)))}

## How long a photograph waits, by workers

Simulated from event to event: a filter’s ${STUDY.photosAFilter} photographs come together, at the hours above; a search takes ${figure(UNIT.searchCpuS)} s of one core in the mean (log-normal,
${SPREAD} in the logarithm); a worker has one core, dies in one search of ${1 / DEATHS}, is noticed after ${SILENT_S} s and back after ${BACK_S} s. Waits run from arrival to the
beginning of the first search; the ones on weekdays only, for nothing arrives else. Beside them the textbook’s mean wait for the busiest hour alone, were every
photograph to come by itself (M/M/c, Erlang C; Gross, Shortle, Thompson, Harris, *Fundamentals of Queueing Theory*, 4th ed. 2008, §2.3): a test holds the
simulation to it where its assumptions hold. With few workers most of the wait is for the other photographs of the same filter.

| laboratories | workers | photographs | mean | median | 95 % wait less | longest | M/M/c, busiest hour | workers busy | again · set aside |
|---|---|---|---|---|---|---|---|---|---|
${queue.join('\n')}

## What breaks first, and what then

- **10 laboratories.** Nothing: one small server, one worker, one disk. What hurts first is a full disk; originals go to a bucket by one option.
- **1,000 laboratories.** Searching: ${figure(sizes[1]!.erlangs)} cores in the busiest hour and more for a filter’s photographs at once, so workers on other machines, which only need the database's and the bucket's
  addresses. The queue is fair between studies, so nobody waits behind a flood. Tiles are made by the server that shows them and kept in its
  own cache; several servers want a cache before \`/api/photos/*/tiles/\`, whose answers never change and say so.
- **100,000 laboratories.** One database: the particle table grows by billions of rows. Laboratories share nothing, so they are spread over
  many databases (one for ${figure(large.laboratories / serversFor(large))} laboratories at most, by the marks of their busiest hour) rather than one cut into parts; within one, \`particle\` and \`mark\` are partitioned by photo, by
  which every query finds them. Workers are started by the depth of the queue (\`GET /api/searches\`). Originals stay in buckets, one prefix a
  laboratory. A claim is computed from its own study alone, so it costs the same at any size.

Not simulated here: networks between sites, a bucket's own limits, backups of many terabytes.
`;
writeFileSync('docs/scale.md', page);
process.stdout.write(page);
