/** An empty laboratory over HTTP: people, a study, its specimens, and a procedure with its editions. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { servedLaboratory } from './served-laboratory.ts';

let lab: Awaited<ReturnType<typeof servedLaboratory>>;
beforeAll(async () => {
  lab = await servedLaboratory();
}, 60_000);
afterAll(async () => {
  await lab?.close();
});

const question = {
  product: 'Tea bag of woven nylon',
  act: 'Steeped',
  duration_min: 5,
  liquid: 'filtered water at 95 °C',
  size_from_um: 100,
  unit: 'particles per portion',
};
const rinse = {
  key: 'rinse',
  kind: 'rinse',
  quantities: { volume_ml: 100, times: 3 },
  touches: { vessel: 'glass beaker' },
};

describe('a study begun over HTTP', () => {
  it('holds its question, specimens, portions and a procedure with two editions', async () => {
    const study = (await lab.ask('POST', '/api/studies', { name: 'Tea', question })).json;
    expect(study.name).toBe('Tea');
    const asked = (await lab.ask('GET', `/api/studies/${study.id}/question`)).json;
    expect(asked).toMatchObject({ ...question, size_to_um: null, confidence: 0.95 });
    const changed = { ...asked, size_from_um: 50 };
    expect((await lab.ask('PUT', `/api/studies/${study.id}/question`, changed)).status).toBe(200);
    expect((await lab.ask('GET', `/api/studies/${study.id}/question`)).json.size_from_um).toBe(50);

    const bag = (await lab.ask('POST', `/api/studies/${study.id}/specimens`, { name: 'Bag A', mass_g: 2.1 }))
      .json;
    const portion = { name: 'A-1', mass_g: 0.4, mass_is: 'product-before', pieces: 1 };
    expect((await lab.ask('POST', `/api/specimens/${bag.id}/portions`, portion)).status).toBe(200);
    const { specimens } = (await lab.ask('GET', `/api/studies/${study.id}/specimens`)).json;
    expect(specimens[0].portions[0]).toMatchObject({ name: 'A-1', mass_g: 0.4, used_by: null });

    const wish = { name: 'Steeping', steps: [rinse] };
    const procedure = (await lab.ask('POST', `/api/studies/${study.id}/procedures`, wish)).json;
    expect(procedure.editions[0]).toMatchObject({ number: 1, changes: [] });
    const twice = { ...rinse, quantities: { volume_ml: 100, times: 2 } };
    const next = (
      await lab.ask('POST', `/api/procedures/${procedure.id}/editions`, {
        steps: [twice],
        because: 'Two rinses are enough.',
      })
    ).json;
    expect(next).toMatchObject({
      number: 2,
      because: 'Two rinses are enough.',
      changes: ['Step “rinse”: how many times twice instead of 3 times.'],
    });
  });

  it('refuses what cannot be, in a sentence', async () => {
    const study = (await lab.ask('POST', '/api/studies', { name: 'Hot', question })).json;
    const hot = { key: 'soak', kind: 'soak', quantities: { temperature_c: 300 }, touches: {} };
    const answer = await lab.ask('POST', `/api/studies/${study.id}/procedures`, {
      name: 'Hot',
      steps: [hot],
    });
    expect(answer.status).toBe(422);
    expect(answer.json.refusal.message).toBe(
      'step “soak” (soak): temperature 300 °C cannot be; from -30 °C to 140 °C is possible. Look at the number and its unit again, and enter what was measured.',
    );
    expect((await lab.ask('POST', '/api/studies', { name: 'hot', question })).status).toBe(409);
  });

  it('takes a kind of step of the laboratory’s own, which travels with the step', async () => {
    const rub = {
      kind: 'rub-with-cloth',
      says: 'Rub with a cloth',
      quantities: [{ name: 'times', label: 'strokes', least: 1, most: 1000, tolerance: 0, scales: true }],
      touches: ['tool', 'vessel'],
      brings: ['act', 'air'],
      makes: [],
    };
    expect((await lab.ask('POST', '/api/step-kinds', rub)).status).toBe(200);
    const again = await lab.ask('POST', '/api/step-kinds', { ...rub, says: 'Otherwise' });
    expect(again.json.refusal.why).toBe('name-taken');
    const known = await lab.ask('POST', '/api/step-kinds', { ...rub, kind: 'cut' });
    expect(known.json.refusal.why).toBe('name-taken');
    const { kinds } = (await lab.ask('GET', '/api/step-kinds')).json;
    expect(kinds.filter((kind: { own: boolean }) => kind.own)).toHaveLength(1);
    const study = (await lab.ask('POST', '/api/studies', { name: 'Rubbed', question })).json;
    const step = {
      key: 'rub',
      kind: 'rub-with-cloth',
      quantities: { times: 40 },
      touches: { tool: 'cloth' },
    };
    const made = await lab.ask('POST', `/api/studies/${study.id}/procedures`, { name: 'Rub', steps: [step] });
    expect(made.json.editions[0].steps[0].kind).toBe('rub-with-cloth');
    const beyond = { ...step, quantities: { times: 5000 } };
    const refused = await lab.ask('POST', `/api/studies/${study.id}/procedures`, {
      name: 'Rub more',
      steps: [beyond],
    });
    expect(refused.json.refusal.why).toBe('impossible-step');
  });

  it('writes records in the name of whoever works', async () => {
    const person = (await lab.ask('POST', '/api/people', { name: 'Ada Example' })).json;
    expect(person.initials).toBe('AE');
    expect((await lab.ask('POST', '/api/people', { name: 'Ada Example' })).json.id).toBe(person.id);
    const study = (
      await lab.ask('POST', '/api/studies', { name: 'Ada’s', question }, { 'x-working': person.id })
    ).json;
    const wish = { name: 'P', steps: [rinse] };
    const path = `/api/studies/${study.id}/procedures`;
    const made = (await lab.ask('POST', path, wish, { 'x-working': person.id })).json;
    expect(made.editions[0].by).toBe('Ada Example');
    const stranger = '01234567-89ab-7cde-8f01-23456789abcd';
    const refused = await lab.ask(
      'POST',
      '/api/studies',
      { name: 'No', question },
      { 'x-working': stranger },
    );
    expect(refused.json.refusal.why).toBe('no-such-person');
  });

  it('makes a whole study of ten answers, with runs to do, and says what its controls tell apart', async () => {
    const answers = {
      product: 'tea bag of woven nylon',
      polymers: ['PA'],
      act: 'steep',
      minutes: 5,
      matrix: 'clean-water',
      liquid_words: 'filtered water',
      volume_ml: 200,
      hottest_c: 95,
      seeing: 'macro',
      setting: 'kitchen',
      pieces: 6,
      mass_g: 2,
      unit: 'particles per portion',
      hours: 60,
      sessions: 3,
      person: 'Ada Example',
      place: 'kitchen',
    };
    const limits = (await lab.ask('POST', '/api/plan-limits', answers)).json;
    expect(limits.smallest_seen_per_gram).toBeGreaterThan(0);
    const study = (await lab.ask('POST', '/api/planned-studies', { name: 'Tea, planned', answers })).json;
    const plan = (await lab.ask('GET', `/api/studies/${study.id}/plan`)).json;
    expect(plan.planned).toBe(true);
    expect(plan.runs.filter((run: { kind: string }) => run.kind === 'specimen')).toHaveLength(6);
    expect(plan.runs.every((run: { run: unknown }) => run.run === null)).toBe(true);
    expect(plan.controls.tangled).toBeGreaterThan(0);
    expect(plan.controls.next.called).toBeTruthy();
    const { procedures } = (await lab.ask('GET', `/api/studies/${study.id}/procedures`)).json;
    expect(procedures.length).toBeGreaterThan(3);
    const { items, missing, scores } = (await lab.ask('GET', `/api/studies/${study.id}/checklist`)).json;
    expect(items.find((item: { id: string }) => item.id === 'Q4').state).toBe('done');
    expect(missing.blocks).toBeGreaterThan(5);
    expect(scores[0].any_nought).toBe(true);
    const safe = (
      await lab.ask('PUT', `/api/studies/${study.id}/safety`, {
        protection: 'Oven gloves',
        supervision: 'Two adults',
      })
    ).json;
    expect(safe).toMatchObject({ ready: true, stops: [] });
    const kept = (await lab.ask('GET', `/api/studies/${study.id}/plan`)).json;
    expect(kept.safety.ready).toBe(true);
    expect(kept.runs).toHaveLength(plan.runs.length);
    const twice = await lab.ask('POST', '/api/planned-studies', { name: 'Tea, planned', answers });
    expect(twice.status).toBe(409);
    const mouth = { ...answers, act: 'mouth', setting: 'laboratory' };
    const refused = await lab.ask('POST', '/api/planned-studies', { name: 'No', answers: mouth });
    expect(refused.json.refusal.why).toBe('mouth-in-laboratory');
    const { studies } = (await lab.ask('GET', '/api/studies')).json;
    expect(studies.filter((one: { name: string }) => one.name === 'No')).toEqual([]);
  }, 30_000);
});
