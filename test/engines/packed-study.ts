/** A small study with everything that a study can have, packed; for tests of packing and of archives made to harm. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { addSpecimen } from '../../src/actions/add-specimen.ts';
import { attachSpectrum } from '../../src/actions/attach-spectrum.ts';
import { findOnPhoto } from '../../src/actions/find-on-photo.ts';
import { importPhoto } from '../../src/actions/import-photo.ts';
import { type ArchiveReader, packStudy } from '../../src/actions/index.ts';
import { addKnownSet } from '../../src/actions/known-pieces.ts';
import { markParticles } from '../../src/actions/mark-particles.ts';
import { setPublishedStanding, writePublished } from '../../src/actions/published-values.ts';
import { snapshotClaim } from '../../src/actions/snapshot-claim.ts';
import { undo } from '../../src/actions/undo.ts';
import { withdrawOrPutBack } from '../../src/actions/withdraw-run.ts';
import { reviseProcedure } from '../../src/actions/write-procedure.ts';
import { spectrumWork } from '../../src/decode/index.ts';
import { type OpenLaboratory, openLaboratory, zipReader, zipWriter } from '../../src/store/index.ts';
import { COMPARABILITY_QUESTIONS } from '../../src/study/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, smallStudy, step } from './small-study.ts';

const spectrum = (at: number): string =>
  `cm-1,A\n${Array.from({ length: 300 }, (_, k) => `${4000 - 11 * k},${(0.1 + Math.exp(-(((4000 - 11 * k - at) / 30) ** 2))).toFixed(5)}`).join('\n')}\n`;

export async function packedStudy() {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-pack-'));
  const opened: OpenLaboratory[] = [];
  let labs = 0;

  async function laboratory() {
    labs += 1;
    const clock = tickingClock();
    const names = countedNames(labs);
    const open = given(
      await openLaboratory(path.join(folder, `lab${labs}`), {
        clock,
        names,
        make: { name: 'Here', invented: true },
      }),
    );
    opened.push(open);
    const { records, files, rows } = open;
    return { records, files, rows, work: pretendedWork(), clock, names, spectra: spectrumWork() };
  }

  const archive = path.join(folder, 'study.zip');
  const home = await laboratory();
  const made = await smallStudy(home);
  const studyId = made.study.id;
  const by = made.person.id;
  for (const [at, filter] of made.filters.entries()) {
    const { photo } = given(
      await importPhoto(home, {
        filter: filter.id,
        source: { bytes: photoBytes(5 - (at % 3), `p${at}`) },
        name: `p${at}.png`,
        by,
      }),
    );
    const { finding } = given(await findOnPhoto(home, { photo: photo.id }));
    const particles = await home.records.look((look) => look.particles.ofFinding(finding.id));
    const ids = particles.map(({ id }) => id);
    given(await markParticles(home, { photo: photo.id, particles: ids, decision: { kind: 'keep' }, by }));
    given(
      await markParticles(home, { photo: photo.id, particles: [ids[0]!], decision: { kind: 'drop' }, by }),
    );
    if (at === 0) {
      given(await undo(home, { study: made.study.id, by }));
      given(
        await attachSpectrum(home, {
          study: made.study.id,
          particle: ids[0]!,
          material: null,
          name: 'p.csv',
          by,
          source: { bytes: Buffer.from(spectrum(2900)) },
        }),
      );
    }
  }
  given(
    await attachSpectrum(home, {
      study: made.study.id,
      particle: null,
      material: null,
      name: 'PE 1.csv',
      by,
      source: { bytes: Buffer.from(spectrum(2910)) },
    }),
  );
  given(
    await reviseProcedure(home, {
      procedure: made.edition.procedure,
      because: 'a longer soak',
      steps: [step('cut', 'cut', { times: 200 })],
      by,
    }),
  );
  given(
    await addSpecimen(home, {
      study: made.study.id,
      name: '=HYPERLINK("http://example.org")',
      role: 'comparison',
      maker: '@maker',
      lot: "'quoted'",
      age: '+5 years',
      material: '-',
      massG: null,
      note: 'two\r\nlines, "marks" and \\N',
    }),
  );
  given(
    await addKnownSet(home, {
      study: made.study.id,
      name: 'first drill',
      made: 'cut from a board',
      by,
      pieces: (['thermoplastic', 'natural-fibre'] as const).map((kind, k) => ({
        key: `A${k + 1}`,
        material: kind,
        class: kind,
        shape: 'fragment' as const,
        colour: 'blue' as const,
        sizeUm: 300,
        particle: null,
      })),
    }),
  );
  const published = {
    entry: null,
    study: made.study.id,
    specimen: made.specimen.id,
    source: '=Invented & Co. 2020',
    perGram: 0.25,
    spread: { kind: 'runs', sd: 0.1, runs: 6 },
    sizeFromUm: 50,
    sizeToUm: null,
    bands: [],
    answers: Object.fromEntries(COMPARABILITY_QUESTIONS.map((key) => [key, 'same'])) as never,
    note: '',
    by,
  } as const;
  const { entry } = given(await writePublished(home, published));
  given(await setPublishedStanding(home, { study: made.study.id, entry, stands: false, by }));
  const blank = made.runs.find(({ name }) => name === 'B1')!.id;
  const withdrawal = { study: made.study.id, what: 'run', subject: blank, withdrawn: true, by } as const;
  given(await withdrawOrPutBack(home, { ...withdrawal, why: '=the dish stood open' }));
  given(await snapshotClaim(home, { study: made.study.id, specimen: made.specimen.id, by, version: '0' }));
  given(await packStudy(home, zipWriter(archive), { study: made.study.name, version: '0.1.0' }));
  const reader = async (file = archive): Promise<ArchiveReader> =>
    given(await zipReader(file, '“study.zip”'));
  const close = async (): Promise<void> => {
    for (const open of opened) await open.close();
    fs.rmSync(folder, { recursive: true, force: true });
  };
  return { folder, laboratory, home, studyId, archive, reader, close };
}
export type Packed = Awaited<ReturnType<typeof packedStudy>>;
export type Laboratory = Packed['home'];
