/**
 * What a laboratory costs at size, from unit costs that were measured: `npx tsx bench-times/scale.ts` writes docs/scale.md.
 * Unit costs are entered here with how they were measured; the rest is arithmetic.
 */
import { writeFileSync } from 'node:fs';

/** Measured on the development machine (2 cores, 2026-11); each says by what. */
const UNIT = {
  /** Processor seconds to search one 24-megapixel photograph (`npm run bench`, imaging). */
  searchCpuS: 5,
  /** Bytes of one 24-megapixel JPEG original: common camera setting, no source. */
  originalBytes: 10e6,
  /** Bytes of its tiles, which can be made again (`du` of a tiles folder: about a third of the original). */
  tileBytes: 4e6,
  /** Bytes a found particle takes in the database with its outline and indices (table size of the example, 290 corners a piece). */
  particleBytes: 4e3,
  /** Milliseconds of processor for one mark: 75 a second with sixty people on two cores that the people shared. */
  markMs: 13,
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

const SECONDS_A_YEAR = 365 * 24 * 3600;
/** Work comes in busy hours: so many times the mean. Common practice, no source. */
const PEAK = 10;
function at(laboratories: number) {
  const studies = laboratories * STUDIES_A_YEAR;
  const photosAPeakSecond = (studies * study.photos * PEAK) / SECONDS_A_YEAR;
  return {
    laboratories,
    photosAYear: studies * study.photos,
    cores: photosAPeakSecond * UNIT.searchCpuS,
    originalsTb: (studies * study.originalsGb) / 1e3,
    recordsGb: (studies * study.recordsMb) / 1e3,
    particles: studies * study.photos * STUDY.particlesAPhoto,
    marksAPeakSecond: (studies * study.marks * PEAK) / SECONDS_A_YEAR,
  };
}
const sizes = [10, 1_000, 100_000].map(at);
const row = (what: string, of: (size: ReturnType<typeof at>) => string) =>
  `| ${what} | ${sizes.map(of).join(' | ')} |`;

const page = `# What it costs at size, and what breaks first

Written by \`npx tsx bench-times/scale.ts\` from the unit costs in that file; change them there when they are measured anew.

## Unit costs

| | |
|---|---|
| search of a 24-megapixel photograph | ${UNIT.searchCpuS} s of one core |
| original | ${UNIT.originalBytes / 1e6} MB |
| its tiles (can be made again) | ${UNIT.tileBytes / 1e6} MB |
| a particle in the database | ${UNIT.particleBytes / 1e3} kB |
| a mark, with the claim's counts read anew | ${UNIT.markMs} ms |
| all that lies behind a claim, 200 runs with 60,000 particles | ${UNIT.detailsCpuS} s of one core |
| its report without pictures | ${UNIT.reportCpuS} s of one core |

## A study

${STUDY.runs} runs with ${STUDY.filtersARun} filters each, ${STUDY.photosAFilter} photographs a filter, ${STUDY.particlesAPhoto} particles a photograph: **${figure(study.photos)} photographs**, ${figure(study.cpuH)} hours of
one core, ${figure(study.originalsGb)} GB of originals, ${figure(study.tilesGb)} GB of tiles, ${figure(study.recordsMb)} MB of records, ${figure(study.marks)} marks. A filter costs ${figure((STUDY.photosAFilter * UNIT.searchCpuS) / 60)} minutes of one core.

## A year of ${STUDIES_A_YEAR} studies a laboratory

| laboratories | ${sizes.map((s) => figure(s.laboratories)).join(' | ')} |
|---|---|---|---|
${row('photographs a year', (s) => figure(s.photosAYear))}
${row(`cores for searching, at ${PEAK} × the mean`, (s) => figure(Math.max(1, s.cores)))}
${row('originals, TB a year', (s) => figure(s.originalsTb))}
${row('records, GB a year', (s) => figure(s.recordsGb))}
${row('particles a year', (s) => figure(s.particles))}
${row(`marks a second, at ${PEAK} × the mean`, (s) => figure(s.marksAPeakSecond))}

## What breaks first, and what then

- **10 laboratories.** Nothing: one small server, one worker, one disk. What hurts first is a full disk; originals go to a bucket by one option.
- **1,000 laboratories.** Searching: a handful of cores, so workers on other machines, which only need the database's and the bucket's
  addresses. The queue is fair between studies, so nobody waits behind a flood. Tiles are made by the server that shows them and kept in its
  own cache; several servers want a cache before \`/api/photos/*/tiles/\`, whose answers never change and say so.
- **100,000 laboratories.** One database: the particle table grows by billions of rows. Laboratories share nothing, so they are spread over
  many databases (one a few hundred laboratories) rather than one cut into parts; within one, \`particle\` and \`mark\` are partitioned by photo, by
  which every query finds them. Workers are started by the depth of the queue (\`GET /api/searches\`). Originals stay in buckets, one prefix a
  laboratory. A claim is computed from its own study alone, so it costs the same at any size.

Not simulated here: networks between sites, a bucket's own limits, backups of many terabytes.
`;
writeFileSync('docs/scale.md', page);
process.stdout.write(page);
