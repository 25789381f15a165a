/** Overlapping photographs and the size that is still found, over HTTP. */
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { servedLaboratory } from './served-laboratory.ts';

let lab: Awaited<ReturnType<typeof servedLaboratory>>;
beforeAll(async () => {
  lab = await servedLaboratory();
}, 60_000);
afterAll(async () => {
  await lab?.close();
});

const jpeg = (shade: number): Promise<Uint8Array> =>
  sharp({ create: { width: 900, height: 640, channels: 3, background: { r: shade, g: 220, b: 220 } } })
    .jpeg()
    .toBuffer();

describe('photographs of one filter that show the same pieces', () => {
  const filter = async () =>
    (await lab.ask('GET', `/api/studies/${lab.study.id}/filters`)).json.filters.find(
      (one: { id: string }) => one.id === lab.filters[0]!.id,
    );
  const bring = async (pieces: number) => {
    const { json } = await lab.put(lab.filters[0]!.id, `${pieces} strewn.jpg`, await jpeg(200 + pieces));
    await lab.searched(json.photo.id);
    return json.photo.id as string;
  };

  it('count them once, say so, and say where each is counted', async () => {
    const first = await bring(9);
    expect((await filter()).together).toBeNull();
    const second = await bring(6);
    const both = await filter();
    expect(both.count).toMatchObject({ state: 'counted', count: 9 });
    expect(both.together).toEqual({ photos: [first, second], seen_again: 6, apart: false, by: null });
    const { particles } = (await lab.ask('GET', `/api/photos/${second}/particles`)).json;
    expect(particles.every((one: { counts: boolean }) => !one.counts)).toBe(true);
    expect(particles[0].counts_on).toMatchObject({ photo: first });
    expect(both.photos.map((photo: { undecided: number }) => photo.undecided)).toEqual([9, 0]);
  });

  it('count each for itself when somebody says so, and that is on record', async () => {
    const say = (apart: unknown) => lab.ask('POST', `/api/filters/${lab.filters[0]!.id}/together`, { apart });
    expect((await say('yes')).status).toBe(400);
    expect((await say(true)).status).toBe(200);
    expect(await filter()).toMatchObject({
      count: { count: 15 },
      together: { seen_again: 0, apart: true, by: 'Ada Example' },
    });
    expect((await say(false)).status).toBe(200);
    expect((await filter()).count).toMatchObject({ count: 9 });
    const nowhere = await lab.ask('POST', `/api/filters/${lab.study.id}/together`, { apart: true });
    expect([nowhere.status, nowhere.json.refusal.why]).toEqual([404, 'no-such-filter']);
  });
});

describe('a photograph that lies on the wrong filter', () => {
  it('is moved, set aside with a reason, listed, and put back', async () => {
    const { json } = await lab.put(lab.filters[1]!.id, '4 pieces.jpg', await jpeg(230));
    await lab.searched(json.photo.id);
    const move = (wish: unknown) => lab.ask('POST', `/api/photos/${json.photo.id}/move`, wish);
    const photosOf = async (at: number): Promise<string[]> => {
      const { filters } = (await lab.ask('GET', `/api/studies/${lab.study.id}/filters`)).json;
      const filter = filters.find((one: { id: string }) => one.id === lab.filters[at]!.id);
      return filter.photos.map((photo: { id: string }) => photo.id);
    };
    expect((await move({ filter: null, why: '' })).status).not.toBe(200);
    expect((await move({ filter: null, why: 'shows the dish' })).status).toBe(200);
    expect(await photosOf(1)).toEqual([]);
    const { moves } = (await lab.ask('GET', `/api/studies/${lab.study.id}/photo-moves`)).json;
    expect(moves).toMatchObject([
      { photo: json.photo.id, name: '4 pieces.jpg', filter: null, why: 'shows the dish', by: 'Ada Example' },
    ]);
    expect((await move({ filter: lab.filters[1]!.id, why: 'put back' })).status).toBe(200);
    expect(await photosOf(1)).toEqual([json.photo.id]);
    const nowhere = await move({ filter: lab.study.id, why: 'no' });
    expect([nowhere.status, nowhere.json.refusal.why]).toEqual([404, 'no-such-filter']);
  });
});

describe('known pieces drawn into controls', () => {
  const route = () => `/api/studies/${lab.study.id}/completeness`;
  const ended = () =>
    expect.poll(async () => (await lab.ask('GET', route())).json.under_way, { timeout: 60_000 }).toBeNull();

  it('need a photograph of a control', async () => {
    expect((await lab.ask('GET', route())).json).toMatchObject({
      under_way: null,
      measured: null,
      refusal: null,
    });
    expect((await lab.ask('POST', route())).status).toBe(200);
    await ended();
    expect((await lab.ask('GET', route())).json.refusal.message).toMatch(
      /bring in a photograph of a control/,
    );
  });

  it('are refused on a photograph without print, in words, and nothing is kept', async () => {
    const { json } = await lab.put(lab.filters[2]!.id, '3 pieces.jpg', await jpeg(190));
    await lab.searched(json.photo.id);
    await lab.ask('POST', route());
    await ended();
    const after = (await lab.ask('GET', route())).json;
    expect(after.refusal.message).toMatch(/has a scale/);
    expect(after.measured).toBeNull();
    expect((await lab.ask('POST', `${route()}/stop`)).status).toBe(200);
  });
});

describe('learning from own controls', () => {
  const route = () => `/api/studies/${lab.study.id}/false-finds`;
  const state = async () => (await lab.ask('GET', route())).json;

  it('offers controls with searched photographs, those with the barest membrane first to choose', async () => {
    const { json } = await lab.put(lab.filters[4]!.id, '2 pieces.jpg', await jpeg(180));
    await lab.searched(json.photo.id);
    const { controls, measured, under_way } = await state();
    expect([measured, under_way]).toEqual([null, null]);
    expect(
      controls.map((one: Record<string, unknown>) => [one.filter, one.kind, one.photographs, one.barest]),
    ).toEqual([
      [lab.filters[2]!.id, 'act-control', 1, false],
      [lab.filters[4]!.id, 'procedural-blank', 1, true],
    ]);
  });

  it('keeps what one photograph gives, recommends nothing from it, and changes no setting', async () => {
    const begin = (filters: unknown) =>
      lab.ask('POST', route(), { filters, wanted: 0.5, dropped_are: 'false-finds' });
    expect((await begin([])).status).toBe(400);
    expect((await begin([lab.filters[4]!.id])).status).toBe(200);
    await expect.poll(async () => (await state()).under_way, { timeout: 60_000 }).toBeNull();
    const { measured, refusal } = await state();
    expect(refusal).toBeNull();
    expect(measured).toMatchObject({
      wanted: 0.5,
      ask: null,
      photographs: 1,
      outdated: null,
      by: 'Ada Example',
    });
    expect(measured.because).toMatch(/Cannot be told from one photograph/);
    expect(measured.rates).toMatchObject([{ asked: 0.5, false_finds: 0, undecided: 2 }]);
    const search = (await lab.ask('GET', `/api/studies/${lab.study.id}/search`)).json;
    expect(search).toMatchObject({ false_finds_per_blank: 0.5, said: null, own: { least: 0 } });
    await lab.ask('PUT', `/api/studies/${lab.study.id}/search`, {
      false_finds_per_blank: 0.5,
      smallest_um: 60,
    });
    expect((await state()).measured.outdated).toMatch(/another smallest size/);
  });

  it('is refused for filters that are none of a control', async () => {
    await lab.ask('POST', route(), {
      filters: [lab.filters[0]!.id],
      wanted: 0.5,
      dropped_are: 'false-finds',
    });
    await expect.poll(async () => (await state()).under_way, { timeout: 60_000 }).toBeNull();
    expect((await state()).refusal.message).toMatch(/None of the chosen filters/);
    expect((await lab.ask('POST', `${route()}/stop`)).status).toBe(200);
  });
});
