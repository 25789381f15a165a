/** A study out to an archive and in again: nothing is lost, and archives made to harm are refused. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ZipFile } from 'yazl';
import { addSpecimen } from '../../src/actions/add-specimen.ts';
import { attachSpectrum } from '../../src/actions/attach-spectrum.ts';
import { findOnPhoto } from '../../src/actions/find-on-photo.ts';
import { importPhoto } from '../../src/actions/import-photo.ts';
import {
  type ArchiveReader,
  belonging,
  NOT_OF_A_STUDY,
  packStudy,
  SHARED,
  unpackStudy,
} from '../../src/actions/index.ts';
import { addKnownSet } from '../../src/actions/known-pieces.ts';
import { markParticles } from '../../src/actions/mark-particles.ts';
import { rowsOfStudy } from '../../src/actions/pack/pack-study.ts';
import { snapshotClaim } from '../../src/actions/snapshot-claim.ts';
import { undo } from '../../src/actions/undo.ts';
import { reviseProcedure } from '../../src/actions/write-procedure.ts';
import { spectrumWork } from '../../src/decode/index.ts';
import { type OpenLaboratory, openLaboratory, zipReader, zipWriter } from '../../src/store/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, smallStudy, step } from './small-study.ts';

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
type Laboratory = Awaited<ReturnType<typeof laboratory>>;

const spectrum = (at: number): string =>
  `cm-1,A\n${Array.from({ length: 300 }, (_, k) => `${4000 - 11 * k},${(0.1 + Math.exp(-(((4000 - 11 * k - at) / 30) ** 2))).toFixed(5)}`).join('\n')}\n`;

let home: Laboratory;
let studyId = '';
const archive = path.join(folder, 'study.zip');

beforeAll(async () => {
  home = await laboratory();
  const made = await smallStudy(home);
  studyId = made.study.id;
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
  given(await snapshotClaim(home, { study: made.study.id, specimen: made.specimen.id, by, version: '0' }));
  given(await packStudy(home, zipWriter(archive), { study: made.study.name, version: '0.1.0' }));
});
afterAll(async () => {
  for (const open of opened) await open.close();
  fs.rmSync(folder, { recursive: true, force: true });
});

const reader = async (file = archive): Promise<ArchiveReader> => given(await zipReader(file, '“study.zip”'));

/** Every row of the study without what only keeps an order. */
async function everything({ rows }: Laboratory): Promise<Record<string, unknown[]>> {
  const { tables, shapes } = await rowsOfStudy(rows, studyId as never);
  return Object.fromEntries(
    shapes.map(({ name, columns }) => {
      const generated = new Set(columns.filter((c) => c.generated).map((c) => c.name));
      return [
        name,
        tables
          .get(name)!
          .map((row) => Object.fromEntries(Object.entries(row).filter(([key]) => !generated.has(key)))),
      ];
    }),
  );
}

describe('every table of the schema', () => {
  it('is a study’s own, is shared, or is listed with the reason why it stays', async () => {
    const shapes = await home.rows.shapes();
    const { owned, lost } = belonging(shapes);
    expect(lost).toEqual([]);
    for (const { name } of shapes) {
      const places = [owned.has(name), SHARED.includes(name), name in NOT_OF_A_STUDY].filter(Boolean);
      expect(places, name).toHaveLength(1);
    }
    for (const name of ['mark', 'edition', 'deviation', 'bench_answer', 'round_event', 'spectrum_file']) {
      expect(owned.has(name), name).toBe(true);
    }
  });

  it('that leads nowhere is told, not passed over', () => {
    const column = { name: 'id', type: 'uuid', nullable: false, generated: false };
    const { lost } = belonging([
      { name: 'study', columns: [column], links: [] },
      { name: 'stray', columns: [column], links: [] },
    ]);
    expect(lost).toEqual(['stray']);
  });
});

describe('packed and brought into another laboratory', () => {
  it('is the same study: rows, originals, claims', async () => {
    const away = await laboratory();
    const zip = await reader();
    const brought = given(await unpackStudy(away, zip));
    await zip.close();
    expect(brought).toMatchObject({ id: studyId, sameClaim: true });
    const before = await everything(home);
    expect(before.mark!.length).toBeGreaterThan(12);
    expect(before.spectrum_file).toHaveLength(2);
    expect(before.edition).toHaveLength(2);
    expect(await everything(away)).toEqual(before);
    const originals = await home.files.list();
    expect(await away.files.list()).toEqual(originals);
    for (const sha256 of originals) expect(await away.files.verify(sha256)).toBe('sound');
  });

  it('goes on: marks can still be undone there', async () => {
    const away = await laboratory();
    const zip = await reader();
    given(await unpackStudy(away, zip));
    await zip.close();
    const by = (await away.records.look((look) => look.people.list()))[0]!.id;
    expect((await undo(away, { study: studyId, by })).ok).toBe(true);
  });

  it('is refused twice, and under a taken name until another is given', async () => {
    const again = await reader();
    expect(await unpackStudy(home, again)).toMatchObject({ ok: false, refusal: { why: 'already-here' } });
    await again.close();
    const away = await laboratory();
    await smallStudy(away);
    const zip = await reader();
    expect(await unpackStudy(away, zip)).toMatchObject({ ok: false, refusal: { why: 'name-taken' } });
    expect(given(await unpackStudy(away, zip, { as: 'Boards from elsewhere' })).study).toBe(
      'Boards from elsewhere',
    );
    await zip.close();
  });

  it('explains itself in open forms', async () => {
    const zip = await reader();
    const json = async (name: string) => JSON.parse(given(await zip.text(name)).text);
    const crate = await json('ro-crate-metadata.json');
    expect(crate['@context']).toBe('https://w3id.org/ro/crate/1.1/context');
    const root = crate['@graph'].find((e: { '@id': string }) => e['@id'] === './');
    expect(root.hasPart.length).toBe(zip.entries.length - 2);
    const pack = await json('datapackage.json');
    expect(pack.profile).toBe('tabular-data-package');
    for (const { path: at, schema } of pack.resources) {
      const head = given(await zip.text(at))
        .text.split('\r\n')[0]!
        .split(',');
      expect(head).toEqual(schema.fields.map((f: { name: string }) => f.name));
    }
    const prov = await json('provenance.jsonld');
    expect(prov['@graph'].some((e: Record<string, unknown>) => 'prov:wasDerivedFrom' in e)).toBe(true);
    const outline = zip.entries.find(({ path: at }) => at.startsWith('outlines/'))!;
    const { features } = await json(outline.path);
    const ring = features[0].geometry.coordinates[0];
    expect(ring[0]).toEqual(ring.at(-1));
    await zip.close();
  });

  it('has no cell that a spreadsheet takes for a formula', async () => {
    const zip = await reader();
    for (const { path: at } of zip.entries.filter((e) => e.path.endsWith('.csv'))) {
      const { text } = given(await zip.text(at));
      // A field begins after a separator or an opening mark; a bare minus begins a number.
      expect(text, at).not.toMatch(/(^|,|\n)"?[=+@\t]/);
      expect(text, at).not.toMatch(/(^|,|\n)"?-(?!\d)/);
    }
    await zip.close();
  });
});

/** The archive written anew, entry by entry, as somebody who wishes harm would. */
async function altered(
  change: (name: string, bytes: Buffer) => Buffer | null,
  more: (zip: ZipFile) => void = () => {},
  patch: readonly [from: string, to: string] | null = null,
): Promise<string> {
  const from = await reader();
  const zip = new ZipFile();
  for (const { path: at } of from.entries) {
    const parts: Buffer[] = [];
    for await (const part of await from.stream(at)) parts.push(Buffer.from(part));
    const bytes = change(at, Buffer.concat(parts));
    if (bytes !== null) zip.addBuffer(bytes, at);
  }
  more(zip);
  zip.end();
  await from.close();
  const chunks: Buffer[] = [];
  for await (const chunk of zip.outputStream) chunks.push(chunk as Buffer);
  let whole = Buffer.concat(chunks);
  if (patch !== null) whole = Buffer.from(whole.toString('latin1').replaceAll(patch[0], patch[1]), 'latin1');
  const file = path.join(folder, `altered-${Math.round(performance.now() * 1000)}.zip`);
  fs.writeFileSync(file, whole);
  return file;
}

describe('an archive made to harm is refused and leaves nothing', () => {
  let away: Laboratory;
  beforeAll(async () => {
    away = await laboratory();
  });
  const same = (_: string, bytes: Buffer) => bytes;
  const text = (name: string) => (zip: ZipFile) => zip.addBuffer(Buffer.from('x'), name);
  it.each<[string, () => Promise<string>, RegExp]>([
    [
      'a path upwards',
      () => altered(same, text('xx/evil.txt'), ['xx/evil.txt', '../evil.txt']),
      /path that leads outside/,
    ],
    [
      'an absolute path',
      () => altered(same, text('xetc/evil'), ['xetc/evil', '/etc/evil']),
      /path that leads outside/,
    ],
    [
      'a symbolic link',
      () =>
        altered(same, (zip) =>
          zip.addBuffer(Buffer.from('/etc/passwd'), 'originals/link', { mode: 0o120777 }),
        ),
      /link or a device/,
    ],
    [
      'a bomb',
      () => altered(same, (zip) => zip.addBuffer(Buffer.alloc(60_000_000), 'records/bomb.csv')),
      /made to fill a disk/,
    ],
    [
      'a file twice',
      () => altered(same, text('retentatX.json'), ['retentatX.json', 'retentate.json']),
      /twice/,
    ],
    ['a file more', () => altered(same, text('extra.txt')), /“extra.txt”, which its card does not list/],
    [
      'a file less',
      () => altered((name, bytes) => (name === 'records/mark.csv' ? null : bytes)),
      /lacks “records\/mark.csv”/,
    ],
    [
      'an original less',
      () => altered((name, bytes) => (name.startsWith('originals/') && name.endsWith('.png') ? null : bytes)),
      /lacks “originals/,
    ],
    [
      'an altered table',
      () =>
        altered((name, bytes) =>
          name === 'records/portion.csv' ? Buffer.from(bytes.toString().replaceAll('50', '51')) : bytes,
        ),
      /“records\/portion.csv” in the archive is not what was packed/,
    ],
    [
      'an altered original',
      () =>
        altered((name, bytes) =>
          name.startsWith('originals/') ? Buffer.from(bytes.map((b) => b ^ 1)) : bytes,
        ),
      /“originals\/.*is not what was packed/,
    ],
    [
      'a newer version',
      () =>
        altered((name, bytes) =>
          name === 'retentate.json'
            ? Buffer.from(bytes.toString().replace(/"schema": "[^"]+"/, '"schema": "9999-later"'))
            : bytes,
        ),
      /update Retentate/,
    ],
    [
      'no card',
      () => altered((name, bytes) => (name === 'retentate.json' ? null : bytes)),
      /has no retentate.json/,
    ],
    [
      'half an archive',
      async () => {
        const file = path.join(folder, 'half.zip');
        const whole = fs.readFileSync(archive);
        fs.writeFileSync(file, whole.subarray(0, whole.length / 2));
        return file;
      },
      /no whole zip archive/,
    ],
    [
      'no archive',
      async () => {
        const file = path.join(folder, 'no.zip');
        fs.writeFileSync(file, 'Lorem ipsum');
        return file;
      },
      /no whole zip archive/,
    ],
  ])('%s', async (_words, make, sentence) => {
    const opening = await zipReader(await make(), '“study.zip”');
    const outcome = opening.ok ? await unpackStudy(away, opening.value) : opening;
    expect(outcome.ok ? 'brought in' : outcome.refusal.message).toMatch(sentence);
    if (opening.ok) await opening.value.close();
    expect(await away.records.look((look) => look.studies.list())).toEqual([]);
    expect(await away.files.list()).toEqual([]);
  });

  it('that is not there is refused', async () => {
    expect(await zipReader(path.join(folder, 'none.zip'), '“none.zip”')).toMatchObject({
      ok: false,
      refusal: { why: 'no-file' },
    });
  });
});

it('a study with a damaged original is not packed', async () => {
  const lab = await laboratory();
  const zip = await reader();
  given(await unpackStudy(lab, zip));
  await zip.close();
  const broken = { ...lab, files: { ...lab.files, verify: async () => 'changed' as const } };
  const out = path.join(folder, 'broken.zip');
  const packed = await packStudy(broken, zipWriter(out), { study: studyId, version: '0' });
  expect(packed.ok ? 'packed' : packed.refusal.message).toMatch(/is changed: put it back/);
  expect(fs.existsSync(out)).toBe(false);
});
