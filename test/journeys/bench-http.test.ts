/** The bench over HTTP: taps done once however often they come, kept as typed where they cannot be done, and undone. */
import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Step } from '../../src/study/index.ts';
import { drawn } from './broken-photos.ts';
import { servedLaboratory } from './served-laboratory.ts';

type Lab = Awaited<ReturnType<typeof servedLaboratory>>;

describe('the bench over HTTP', () => {
  let lab: Lab;
  let number = 0;
  beforeAll(async () => {
    lab = await servedLaboratory();
  });
  afterAll(() => lab.close());

  const tap = (run: string, deed: object, minute = 0, more: object = {}) => {
    number += 1;
    const at = new Date(Date.UTC(2026, 0, 5, 9, minute)).toISOString();
    return { id: randomUUID(), run, device: 'a telephone', number, deed, at, ...more };
  };
  const send = async (...taps: object[]) => (await lab.ask('POST', '/api/bench/taps', { taps })).json.taps;
  const states = async (...taps: object[]) =>
    (await send(...taps)).map((one: { state: string }) => one.state);
  const sheet = async (run: string) => (await lab.ask('GET', `/api/runs/${run}/sheet`)).json;
  const bench = async (run: string) =>
    (await lab.ask('GET', `/api/studies/${lab.study.id}/bench`)).json.runs.find(
      (one: { run: string }) => one.run === run,
    );
  const claimHeld = async () =>
    (await lab.ask('GET', `/api/studies/${lab.study.id}/standing`)).json.held_back as {
      why: string;
      run: string;
      message: string;
    }[];

  it('does each tap once, in order, and answers the same when it comes again', async () => {
    const run = lab.runs[2]!.id;
    const taps = [
      tap(run, { do: 'begin' }),
      tap(run, { do: 'start', step: 'cut' }, 1),
      tap(run, { do: 'finish', step: 'cut', quantities: { times: 90 } }, 3),
      tap(run, { do: 'fraction', kind: 'rinse', volume_ml: 25, place: '', fate: 'discarded', note: '' }, 4),
    ];
    expect(await states(...taps)).toEqual(['done', 'done', 'done', 'done']);
    expect(await states(...taps)).toEqual(['known', 'known', 'known', 'known']);
    const { fractions, taps: kept } = await sheet(run);
    expect(fractions.filter((one: { kind: string }) => one.kind === 'rinse')).toHaveLength(1);
    expect(kept.map((one: { number: number }) => one.number)).toEqual([1, 2, 3, 4]);
    expect(await bench(run)).toMatchObject({ state: 'under-way', steps_done: 1, steps: 2 });
  });

  it('keeps as typed what cannot be done, says why, and holds the device to what cannot be kept', async () => {
    const run = lab.runs[2]!.id;
    const answers = await send(
      tap(run, { do: 'dance' }),
      tap(run, { do: 'fraction', kind: 'remainder', volume_ml: 5, place: '', fate: 'kept', note: '' }),
      tap(run, {
        do: 'filtered',
        step: 'filter',
        filter: null,
        passed_ml: 0,
        remainder_ml: 0,
        remainder: randomUUID(),
        place: '',
        fate: 'kept',
        clogged: true,
      }),
      tap(randomUUID(), { do: 'begin' }),
      tap(run, { do: 'begin' }, 0, { number: 1 }),
    );
    expect(
      answers.map((one: { state: string; refusal: { why: string } }) => [one.state, one.refusal.why]),
    ).toEqual([
      ['without-effect', 'unknown-deed'],
      ['without-effect', 'no-place'],
      ['without-effect', 'nothing-filtered'],
      ['not-kept', 'no-such-run'],
      ['not-kept', 'number-taken'],
    ]);
    const { problems } = await bench(run);
    expect(problems).toHaveLength(3);
    expect(
      (await sheet(run)).taps.find((one: { deed: { do: string } }) => one.deed.do === 'dance').refusal.why,
    ).toBe('unknown-deed');
  });

  it('grades a deviation at once, and undoing it mends the claim again', async () => {
    const run = lab.runs[0]!.id;
    const held = async () => (await claimHeld()).filter((one) => one.run === run && /control/.test(one.why));
    const before = await held();
    const { edition } = await sheet(run);
    const cut = edition.steps.find((step: Step) => step.key === 'cut');
    const changed = { ...cut, touches: { ...cut.touches, vessel: 'plastic bowl' } };
    const otherwise = tap(run, {
      do: 'otherwise',
      step: 'cut',
      kind: 'changed',
      as_done: changed,
      what: 'took the bowl',
      why: 'the beaker broke',
    });
    expect(await states(otherwise)).toEqual(['done']);
    const after = await bench(run);
    expect(after.deviations).toEqual([{ id: otherwise.id, what: 'took the bowl', why: 'the beaker broke' }]);
    expect(after.coverage.gaps.map((gap: { sentence: string }) => gap.sentence).join(' ')).toContain(
      'plastic bowl',
    );
    expect((await held()).map((one) => one.message).join(' ')).toContain('“plastic bowl”');
    expect(await states(tap(run, { do: 'undo', tap: otherwise.id }))).toEqual(['done']);
    expect((await bench(run)).deviations).toEqual([]);
    expect(await held()).toEqual(before);
    expect(await states(tap(run, { do: 'undo', tap: otherwise.id }))).toEqual(['without-effect']);
  });

  it('compares a run with its controls by what was measured, not by what was planned', async () => {
    const run = lab.runs[0]!.id;
    const coverage = async () => (await bench(run)).coverage.grade;
    const planned = await coverage();
    const finish = tap(run, { do: 'finish', step: 'cut', quantities: { times: 400 } }, 5);
    await send(tap(run, { do: 'start', step: 'cut' }, 4), finish);
    expect(await coverage()).toBe('different');
    await send(tap(run, { do: 'undo', tap: finish.id }, 6));
    expect(await coverage()).toBe(planned);
  });

  it('keeps what cannot be as typed, and lets it touch neither coverage nor claim', async () => {
    const run = lab.runs[1]!.id;
    const before = await bench(run);
    const claim = async () => (await lab.ask('GET', `/api/studies/${lab.study.id}/standing`)).json;
    const claimed = await claim();
    const mark = (volume_ml: number) => ({ do: 'volume-mark', step: 'filter', filter: null, volume_ml });
    const answers = await send(
      tap(run, { do: 'finish', step: 'cut', quantities: { times: -5 } }),
      tap(run, { do: 'finish', step: 'cut', quantities: { bananas: 4 } }),
      tap(run, { do: 'finish', step: 'filter', quantities: { volume_ml: 0 } }),
      tap(run, { do: 'finish', step: 'nonesuch', quantities: {} }),
      tap(run, { do: 'exposure', step: 'cut', minutes: 99_999, openings: 3 }),
      tap(run, mark(50)),
      tap(run, mark(20)),
    );
    expect(
      answers.map((one: { state: string; refusal: { why: string } | null }) => [one.state, one.refusal?.why]),
    ).toEqual([
      ['without-effect', 'impossible-step'],
      ['without-effect', 'unknown-quantity'],
      ['without-effect', 'impossible-step'],
      ['without-effect', 'no-such-step'],
      ['without-effect', 'impossible-step'],
      ['done', undefined],
      ['without-effect', 'volume-falls'],
    ]);
    const after = await bench(run);
    expect(after.problems).toHaveLength(6);
    expect(after.problems.join(' ')).toContain('99999 minutes uncovered cannot be');
    expect(after.coverage).toEqual(before.coverage);
    expect(after.uncovered).toEqual(before.uncovered);
    expect(await claim()).toEqual(claimed);
    const kept = (await sheet(run)).taps.map((one: { deed: object }) => one.deed);
    expect(kept).toContainEqual({ do: 'finish', step: 'cut', quantities: { bananas: 4 } });
  });

  it('ends a clogged filtration with its remainder kept and found again by its code', async () => {
    const run = lab.runs[4]!.id;
    const remainder = randomUUID();
    const filtered = tap(
      run,
      {
        do: 'filtered',
        step: 'filter',
        filter: lab.filters[4]!.id,
        passed_ml: 120,
        remainder_ml: 80,
        remainder,
        place: 'cold shelf, bottle 7',
        fate: 'kept',
        clogged: true,
      },
      20,
    );
    await send(filtered);
    expect(await bench(run)).toMatchObject({ clogged: true });
    const { labels } = (await lab.ask('GET', `/api/studies/${lab.study.id}/labels`)).json;
    const label = labels.find((one: { lines: string[] }) => one.lines.includes('cold shelf, bottle 7'));
    expect(label).toMatchObject({ what: 'remainder', name: 'B1: remainder, 80 mL' });
    const found = await lab.ask('GET', `/api/codes/${label.code.toLowerCase().replace('-', '')}`);
    expect(found.json).toEqual(label);
    expect((await lab.ask('GET', '/api/codes/ABCD-EFGH')).json.refusal.message).toContain('sign');
    await send(tap(run, { do: 'undo', tap: filtered.id }, 21));
    expect(await bench(run)).toMatchObject({ clogged: false });
    expect((await sheet(run)).fractions.map((one: { volume_ml: number }) => one.volume_ml)).toEqual([200]);
  });

  it('says where a millilitre is missing, and what the air may have brought', async () => {
    const run = lab.runs[3]!.id;
    const said = await bench(run);
    expect(said.balance).toMatchObject({ in_ml: 200, out_ml: 200, agrees: true });
    expect(said.uncovered).toMatchObject({ minutes: 2, measured_min: 0 });
    expect(said.deposition).toBeNull();
    expect(said.deposition_refusal.why).toBe('no-dish');
    await send(tap(run, { do: 'uncover', step: 'cut' }, 0), tap(run, { do: 'cover', step: 'cut' }, 6));
    expect((await bench(run)).uncovered).toMatchObject({ minutes: 7, measured_min: 6, openings: 1 });
  });

  it('reckons what the air brings from a dish that was looked at and timed', async () => {
    const made = await lab.ask('POST', `/api/studies/${lab.study.id}/runs`, {
      runs: [
        { name: 'Dish 1', kind: 'air-control', edition: lab.edition.id, on: '2026-01-05', session: '1' },
      ],
    });
    const dish = made.json.runs[0].id;
    const run = lab.runs[3]!.id;
    const why = async () => (await bench(run)).deposition_refusal?.why;
    expect(await why()).toBe('dish-not-looked');
    const laid = await lab.ask('POST', `/api/runs/${dish}/filters`, {
      name: 'dish membrane',
      pore_um: 10,
      effective_diameter_mm: 9,
      pitch_mm: 3.1,
      examined_stated: 0.5,
    });
    const { json } = await lab.put(laid.json.id, '3 pieces.jpg', await drawn(500, 400).jpeg().toBuffer());
    await lab.searched(json.photo.id);
    await send(
      tap(dish, { do: 'exposure', step: 'cut', minutes: 45, openings: null }),
      tap(dish, { do: 'exposure', step: 'filter', minutes: 15, openings: null }),
    );
    const { deposition, uncovered } = await bench(run);
    // Three pieces on half the dish in 60 minutes: 6 an hour, and 7 minutes of the run.
    expect(uncovered.minutes).toBe(7);
    expect(deposition).toMatchObject({
      expected: (7 * 3) / (60 * 0.5),
      from: 'this session',
      confidence: 0.95,
    });
    // Garwood 1936: 3 counted, 95 %: 0.619 to 8.767.
    expect(deposition.lower / deposition.expected).toBeCloseTo(0.619 / 3, 3);
    expect(deposition.upper / deposition.expected).toBeCloseTo(8.767 / 3, 3);
  });

  it('attaches pictures of the set-up by their content', async () => {
    const run = lab.runs[2]!.id;
    const bytes = await drawn(640, 480).jpeg().toBuffer();
    const put = (body: Uint8Array) =>
      lab.ask('PUT', `/api/runs/${run}/setup/photos?name=bench.jpg&step=cut&note=lamp%20on`, body);
    const first = (await put(bytes)).json;
    expect(first).toMatchObject({ run, step: 'cut', name: 'bench.jpg', note: 'lamp on', width_px: 640 });
    expect((await put(bytes)).json.id).toBe(first.id);
    expect((await put(Buffer.from('a poem'))).status).toBe(422);
    expect((await sheet(run)).setup_photos).toHaveLength(1);
    const picture = await lab.ask('GET', `/api/setup-photos/${first.id}/picture`);
    expect(picture.headers['content-type']).toBe('image/jpeg');
    const original = await fetch(`${lab.address}/api/setup-photos/${first.id}/original`);
    expect(Buffer.from(await original.arrayBuffer()).equals(bytes)).toBe(true);
  });
});
