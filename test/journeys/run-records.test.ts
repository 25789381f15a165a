import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';

type Lab = Awaited<ReturnType<typeof servedLaboratory>>;

describe('runs, filters and places over HTTP', () => {
  let lab: Lab;
  beforeAll(async () => {
    lab = await servedLaboratory();
  });
  afterAll(() => lab.close());

  const run = (name: string, more: object = {}) => ({
    name,
    kind: 'act-control',
    edition: lab.edition.id,
    on: '2026-01-06',
    session: '2',
    ...more,
  });
  const add = (runs: readonly object[]) => lab.ask('POST', `/api/studies/${lab.study.id}/runs`, { runs });
  const names = async () =>
    (await lab.ask('GET', `/api/studies/${lab.study.id}/runs`)).json.runs.map(
      (r: { name: string }) => r.name,
    );

  it('offers what there is to choose from', async () => {
    const { json } = await lab.ask('GET', `/api/studies/${lab.study.id}/run-choices`);
    expect(json.editions).toEqual([
      { id: lab.edition.id, label: 'chop and filter, edition 1', in_use: true },
    ]);
    expect(json.portions.map((p: { used_by: string }) => p.used_by)).toEqual(['S1', 'S2']);
    expect(json.last_filter).toMatchObject({
      pore_um: 10,
      effective_diameter_mm: 9,
      pitch_mm: 3.1,
      name: '',
    });
    expect(json.working).toBe(lab.person.id);
  });

  it('enters runs with portions weighed now, all or none', async () => {
    const weighed = (mass_g: number) => ({
      kind: 'specimen-run',
      weighed: { specimen: lab.specimen.id, mass_g },
    });
    const refused = await add([run('S3', weighed(1.02)), run('S4', weighed(-1))]);
    expect(refused.status).toBe(422);
    expect(refused.json.refusal.message).toContain('massG');
    expect(await names()).not.toContain('S3');
    const made = await add([run('S3', weighed(1.02)), run('S4', weighed(0.97)), run('C3')]);
    expect(made.json.runs.map((r: { order: number }) => r.order)).toEqual([7, 8, 9]);
    const { json } = await lab.ask('GET', `/api/studies/${lab.study.id}/runs`);
    expect(json.runs.find((r: { name: string }) => r.name === 'S4').portion).toEqual({
      name: 'portion of S4',
      mass_g: 0.97,
    });
    expect((await add([run('C3')])).json.refusal).toMatchObject({ why: 'name-taken' });
    expect((await add([run('S5', { kind: 'specimen-run' })])).json.refusal.why).toBe('no-portion');
  });

  it('draws an order that anybody can draw again; runs with a filter keep their places', async () => {
    const order = (seed: number) => lab.ask('POST', `/api/studies/${lab.study.id}/run-order`, { seed });
    const first = (await order(7)).json.runs.map((r: { name: string }) => r.name);
    expect(first.slice(0, 6)).toEqual(['S1', 'S2', 'C1', 'C2', 'B1', 'K1']);
    expect([...first].sort()).toEqual([...(await names())].sort());
    expect(await names()).toEqual(first);
    const other = (await order(8)).json.runs;
    expect(other).toHaveLength(9);
    expect((await order(7)).json.runs.map((r: { name: string }) => r.name)).toEqual(first);
    expect((await order(1.5)).json.refusal.message).toContain('whole number');
  });

  it('lays a filter, takes a mistaken one back, and keeps one that has photographs', async () => {
    const { json } = await lab.ask('GET', `/api/studies/${lab.study.id}/runs`);
    const own = json.runs.find((r: { name: string }) => r.name === 'C3').id;
    const lay = (name: string, more: object = {}) =>
      lab.ask('POST', `/api/runs/${own}/filters`, { name, pore_um: 10, effective_diameter_mm: 35, ...more });
    const wide = await lay('too wide', { pitch_mm: 40 });
    expect(wide.json.refusal.message).toContain('do not fit');
    const first = (await lay('Filter C3', { pitch_mm: 3.1 })).json.id;
    const second = (await lay('laid by mistake')).json.id;
    const takeBack = (subject: string) =>
      lab.ask('POST', `/api/studies/${lab.study.id}/withdrawals`, { what: 'filter', subject, why: 'a slip' });
    expect((await takeBack(second)).status).toBe(200);
    expect((await takeBack(second)).status).toBe(404);
    const laid = async () =>
      (await lab.ask('GET', `/api/studies/${lab.study.id}/filters`)).json.filters
        .filter((f: { run: { id: string } }) => f.run.id === own)
        .map((f: { name: string }) => f.name);
    expect(await laid()).toEqual(['Filter C3']);
    const added = await lab.put(first, '3 pieces.jpg', await drawn(300, 200).jpeg().toBuffer());
    expect((await takeBack(first)).json.refusal).toMatchObject({ why: 'still-used' });
    const place = (square: unknown) =>
      lab.ask('POST', `/api/photos/${added.json.photo.id}/place`, { square });
    expect((await place([2, -1])).json.refusal.message).toContain('from 0 to 400');
    await place(null);
    await place([2, 1]);
    const places = await lab.ask('GET', `/api/studies/${lab.study.id}/photo-places`);
    expect(places.json.places).toEqual([{ photo: added.json.photo.id, square: [2, 1] }]);
  });

  it('says where the liquid went and refuses a kept part without a place', async () => {
    const own = lab.runs[2]!.id;
    const say = (body: object) => lab.ask('POST', `/api/runs/${own}/fractions`, body);
    expect((await say({ kind: 'remainder', volume_ml: 20, fate: 'kept' })).json.refusal.why).toBe('no-place');
    const kept = await say({ kind: 'remainder', volume_ml: 20, fate: 'kept', place: 'shelf 2' });
    expect(kept.status).toBe(200);
    const remarks = async () =>
      (await lab.ask('GET', `/api/studies/${lab.study.id}/runs`)).json.runs.find(
        (r: { id: string }) => r.id === own,
      ).remarks;
    expect(await remarks()).toContain('20 mL remainder kept: shelf 2');
    await lab.ask('POST', `/api/studies/${lab.study.id}/withdrawals`, {
      what: 'fraction',
      subject: kept.json.id,
    });
    expect(await remarks()).toEqual([]);
  });

  it('keeps what the product weighed before and after; the newest stands, and can be taken back', async () => {
    const listed = async () =>
      (await lab.ask('GET', `/api/studies/${lab.study.id}/weighings`)).json.weighings as {
        run: string;
        after_g: number;
      }[];
    const weigh = (run: string, body: object) => lab.ask('POST', `/api/runs/${run}/weighings`, body);
    const whole = { before_g: 12.005, after_g: 12, uncertainty_g: 0.0002 };
    expect(await listed()).toEqual([]);
    const [own] = lab.runs;
    expect((await weigh(own!.id, { ...whole, before_g: 0 })).status).not.toBe(200);
    expect((await weigh(own!.id, whole)).status).toBe(200);
    expect((await weigh(own!.id, { ...whole, after_g: 12.001 })).status).toBe(200);
    expect(await listed()).toMatchObject([{ run: own!.id, after_g: 12.001 }]);
    expect((await weigh(own!.id, { ...whole, stands: false })).status).toBe(200);
    expect(await listed()).toEqual([]);
  });

  it('withdraws a run with its reason, lists it with what it counts, and puts it back', async () => {
    const of = (path: string) => `/api/studies/${lab.study.id}/${path}`;
    const [own] = lab.runs;
    const word = (body: object) =>
      lab.ask('POST', of('withdrawn'), { what: 'run', subject: own!.id, withdrawn: true, ...body });
    const listed = async () => (await lab.ask('GET', of('withdrawn'))).json.withdrawn;
    expect(await listed()).toEqual([]);
    expect((await word({ why: '' })).json.refusal).toMatchObject({ why: 'empty' });
    const photo = await lab.put(lab.filters[0]!.id, '6 pieces.jpg', await drawn(310, 200).jpeg().toBuffer());
    await lab.searched(photo.json.photo.id);
    expect((await word({ why: 'the beaker broke' })).status).toBe(200);
    expect(await names()).not.toContain('S1');
    expect(await listed()).toMatchObject([
      {
        what: 'run',
        name: 'S1',
        why: 'the beaker broke',
        by: 'Ada Example',
        count_open: true,
        runs: [{ name: 'S1', count: { state: 'counted' } }],
      },
    ]);
    const stands = (await lab.ask('GET', of('standing'))).json;
    expect(stands.withdrawn).toEqual({ runs: 1, after_count: 1 });
    expect(stands.points.map((point: { name: string }) => point.name)).not.toContain('S1');
    expect(stands.held_back.map(({ why }: { why: string }) => why)).toContain('withdrawn-after-count');
    const sheet = await lab.ask('GET', `/api/runs/${own!.id}/sheet`);
    expect(sheet.json.refusal.message).toContain('put it back');
    expect((await word({ withdrawn: false, why: 'put back' })).status).toBe(200);
    expect(await names()).toContain('S1');
    expect(await listed()).toEqual([]);
  });
});
