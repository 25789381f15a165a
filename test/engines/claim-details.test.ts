/** What lies behind a claim, on the embedded database: the same pieces sorted every way add up to the claim's own counts. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  claimDetails,
  findOnPhoto,
  importPhoto,
  markParticles,
  standing,
  type Tools,
  weighProduct,
} from '../../src/actions/index.ts';
import { ClaimDetailsJson } from '../../src/api/index.ts';
import { claimDetailsView } from '../../src/server/claim-views.ts';
import type { Served } from '../../src/server/served.ts';
import { openLaboratory } from '../../src/store/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, smallStudy } from './small-study.ts';

describe('what lies behind a claim', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-behind-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'Behind', invented: true } }),
    );
    const { records, files } = laboratory;
    tools = { records, files, work: pretendedWork(), clock, names };
    close = laboratory.close;
    made = await smallStudy(tools);
    for (const [at, n] of [14, 12, 5, 4, 3, 9].entries()) {
      const { photo } = given(
        await importPhoto(tools, {
          filter: made.filters[at]!.id,
          name: `${made.runs[at]!.name}.jpg`,
          source: { bytes: photoBytes(n, `behind ${at}`) },
          by: made.person.id,
        }),
      );
      given(await findOnPhoto(tools, { photo: photo.id }));
    }
  });
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('sorts the pieces so that kinds and sizes add up to the counts that are judged', async () => {
    const details = given(await claimDetails(tools, { study: made.study.id, specimen: made.specimen.id }));
    const { judged, input } = details.mine;
    if (!judged.ok) throw new Error(judged.refusal.message);
    const categories = given(details.categories);
    const of = (side: 'specimens' | 'controls') => categories.rows.reduce((sum, row) => sum + row[side], 0);
    expect(of('specimens')).toBe(judged.value.specimens.count);
    expect(of('controls')).toBe(judged.value.controls.count);
    const net = categories.rows.reduce((sum, row) => sum + row.net, 0);
    expect(net).toBeCloseTo(judged.value.netCount, 9);
    for (const row of categories.rows) expect(row.pieces.specimens).toHaveLength(row.specimens);
    for (const { bands, below, above } of given(details.sizes)) {
      const sorted = bands.reduce((sum, band) => sum + band.specimens + band.controls, 0);
      expect(sorted + below + above).toBe(judged.value.specimens.count + judged.value.controls.count);
    }
    // photographs show pieces from 30 µm, the question begins at 50 µm: nobody asked, and they could have been seen
    expect(details.counted.runs.flatMap((run) => run.floorUm ?? [])).toContain(30);
    const eu = given(details.sizes).find(({ scheme }) => scheme.id === 'eu-2024-1441')!;
    expect(eu.bands[0]).toMatchObject({ fromUm: 20, toUm: 50, seen: { kind: 'not-asked' } });
    expect(details.robustness.base.above).toBe(judged.value.aboveBackground);
    expect(details.robustness.judged).toBeGreaterThan(3);
    expect(input.serving.length).toBe(input.input.controls.length);
  });

  it('travels in its stated shape, each piece with the way to its photograph', async () => {
    const served = tools as unknown as Served;
    const sent = given(await claimDetailsView(served, made.study.id, made.specimen.id));
    const read = ClaimDetailsJson.parse(JSON.parse(JSON.stringify(sent)));
    expect(read.looked.map((run) => [run.name, run.side])).toEqual([
      ['S1', 'specimens'],
      ['S2', 'specimens'],
      ['C1', 'controls'],
      ['C2', 'controls'],
      ['B1', 'aside'],
      ['K1', 'spiked'],
    ]);
    const second = read.looked.find((run) => run.name === 'S2')!;
    expect(second.passed).toBeCloseTo(0.75, 9);
    expect(second.uncertainty!.passed).toBeGreaterThan(0);
    expect(second.uncertainty!.together).toBeGreaterThanOrEqual(second.uncertainty!.passed!);
    expect(read.looked.find((run) => run.name === 'S1')!.uncertainty!.passed).not.toBeNaN();
    expect(read.spikes.map((spike) => spike.serves)).toEqual([true]);
    const pieces = read.categories!.rows.flatMap((row) => row.on_specimens);
    expect(pieces.length).toBeGreaterThan(0);
    for (const piece of pieces) expect(made.filters.map((filter) => filter.id)).toContain(piece.filter);
  });

  it('leaves dropped pieces out, and says what a mass lacks', async () => {
    const before = given(await claimDetails(tools, { study: made.study.id, specimen: made.specimen.id }));
    const rows = given(before.categories).rows;
    const piece = rows.find((row) => row.pieces.specimens.length > 0)!.pieces.specimens[0]!;
    given(
      await markParticles(tools, {
        photo: piece.photo,
        particles: [piece.particle.id],
        decision: { kind: 'drop' },
        by: made.person.id,
      }),
    );
    const after = given(await claimDetails(tools, { study: made.study.id, specimen: made.specimen.id }));
    const total = (of: typeof before) => given(of.categories).total.specimens;
    expect(total(after)).toBe(total(before) - 1);
    const stands = given(await standing(tools, { study: made.study.id }));
    const counted = stands.specimens[0]!.judged;
    expect(counted.ok && counted.value.specimens.count).toBe(total(after));
    if (!after.mass.ok) expect(after.mass.refusal.message).toMatch(/pieces|floor/);
    else expect(after.mass.value.micrograms.upper).toBeGreaterThan(after.mass.value.micrograms.lower);
  });

  it('learns the scatter of controls from earlier studies of the laboratory, and counts them beside, not in', async () => {
    const other = await smallStudy(tools, 'Spoons');
    for (const at of [2, 3]) {
      const { photo } = given(
        await importPhoto(tools, {
          filter: other.filters[at]!.id,
          name: `${other.runs[at]!.name}-spoons.jpg`,
          source: { bytes: photoBytes(at + 1, `spoons ${at}`) },
          by: other.person.id,
        }),
      );
      given(await findOnPhoto(tools, { photo: photo.id }));
    }
    const later = given(await claimDetails(tools, { study: other.study.id, specimen: other.specimen.id }));
    expect(later.counted.history).toHaveLength(1);
    expect(later.counted.history[0]).toMatchObject({ study: made.study.name, kind: 'act-control' });
    expect(later.counted.history[0]!.runs).toHaveLength(2);
    const { input } = later.mine.input;
    expect(input.controls).toHaveLength(2);
    expect(input.history).toEqual([later.counted.history[0]!.runs]);
    expect(later.robustness.rows.map((row) => row.choice)).toContain(
      'learned from these runs alone, without earlier controls',
    );
    // what is done later moves no earlier claim
    const before = given(await claimDetails(tools, { study: made.study.id, specimen: made.specimen.id }));
    expect(before.counted.history).toEqual([]);
    expect(before.mine.input.input.history).toBeUndefined();
  });

  it('sorts nothing, and says why, where the counts contradict each other', async () => {
    const other = await smallStudy(tools, 'Bowls');
    for (const [at, n] of [
      [0, 12],
      [2, 4],
      [5, 24],
    ] as const) {
      const { photo } = given(
        await importPhoto(tools, {
          filter: other.filters[at]!.id,
          name: `${at}-bowls.jpg`,
          source: { bytes: photoBytes(n, `bowls ${at}`) },
          by: other.person.id,
        }),
      );
      given(await findOnPhoto(tools, { photo: photo.id }));
    }
    const details = given(await claimDetails(tools, { study: other.study.id, specimen: other.specimen.id }));
    for (const part of [details.categories, details.sizes]) {
      expect(part.ok ? '' : part.refusal.message).toMatch(/More known pieces were found than added/);
    }
    expect(details.robustness.base.refusal).toMatch(/More known pieces/);
  });

  it('holds the mass against what the product lost; not weighed, taken back and controls are told apart', async () => {
    const [run, , control] = made.runs;
    const balance = async () =>
      given(await claimDetails(tools, { study: made.study.id, specimen: made.specimen.id })).balance;
    const weigh = (of: string, stands: boolean) =>
      weighProduct(tools, {
        run: of,
        stands,
        beforeG: 12.005,
        afterG: 12,
        uncertaintyG: 0.0002,
        note: '',
        by: made.person.id,
      });
    const none = await balance();
    expect(none.ok ? '' : none.refusal.why).toBe('not-weighed');
    const onControl = await weigh(control!.id, true);
    expect(onControl.ok ? '' : onControl.refusal.message).toMatch(/is a control/);
    given(await weigh(run!.id, true));
    const one = await balance();
    if (one.ok) {
      expect(one.value.runs).toEqual([run!.name]);
      expect(one.value.lossUg.value).toBeCloseTo(5000, 6);
    } else expect(one.refusal.why).toBe('no-mass');
    const served = tools as unknown as Served;
    const sent = given(await claimDetailsView(served, made.study.id, made.specimen.id));
    expect(ClaimDetailsJson.parse(JSON.parse(JSON.stringify(sent)))).toMatchObject(
      one.ok
        ? { mass_balance: { runs: [run!.name] }, mass_balance_refusal: null }
        : { mass_balance: null, mass_balance_refusal: one.refusal.message },
    );
    given(await weigh(run!.id, false));
    const back = await balance();
    expect(back.ok ? '' : back.refusal.why).toBe('not-weighed');
  });

  it('refuses a specimen that is not there', async () => {
    const none = await claimDetails(tools, { study: made.study.id, specimen: made.study.id });
    expect(none.ok ? '' : none.refusal.why).toBe('no-such-specimen');
  });
});
