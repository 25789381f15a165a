/** A study out to an archive and in again: nothing is lost. */
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { belonging, NOT_OF_A_STUDY, packStudy, SHARED, unpackStudy } from '../../src/actions/index.ts';
import { rowsOfStudy } from '../../src/actions/pack/pack-study.ts';
import { undo } from '../../src/actions/undo.ts';
import { zipWriter } from '../../src/store/index.ts';
import { type Laboratory, type Packed, packedStudy } from './packed-study.ts';
import { given, smallStudy } from './small-study.ts';

let packed: Packed;
let home: Laboratory;
let studyId = '';
const laboratory = () => packed.laboratory();
const reader = () => packed.reader();
beforeAll(async () => {
  packed = await packedStudy();
  ({ home, studyId } = packed);
});
afterAll(() => packed.close());

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
    expect(before.published_value).toHaveLength(2);
    expect(before.withdrawal_word).toMatchObject([{ withdrawn: true, count_open: true }]);
    const counting = await away.records.look((look) => look.runs.ofStudy(studyId as never));
    expect(counting.map(({ name }) => name)).not.toContain('B1');
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

it('a study with a damaged original is not packed', async () => {
  const lab = await laboratory();
  const zip = await reader();
  given(await unpackStudy(lab, zip));
  await zip.close();
  const broken = { ...lab, files: { ...lab.files, verify: async () => 'changed' as const } };
  const out = path.join(packed.folder, 'broken.zip');
  const outcome = await packStudy(broken, zipWriter(out), { study: studyId, version: '0' });
  expect(outcome.ok ? 'packed' : outcome.refusal.message).toMatch(/is changed: put it back/);
  expect(fs.existsSync(out)).toBe(false);
});
