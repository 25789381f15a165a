import { describe, expect, it } from 'vitest';
import type { RunSheetAnswer } from '../../api/index.ts';
import type { Step, TapDeed } from '../../study/index.ts';
import { type DeviceTap, freshId } from './device-store.ts';
import { allTaps, onDevice } from './on-device.ts';
import { changedStep } from './otherwise.tsx';

const NOTHING = {
  tool: null,
  liquid: null,
  reagentLot: null,
  place: null,
  person: null,
  filterLot: null,
  optics: null,
};
const step = (key: string, kind: string, quantities: Record<string, number> = {}): Step => ({
  key,
  kind,
  quantities,
  touches: { vessel: 'beaker', ...NOTHING },
  minutesUncovered: 1,
  openings: null,
  note: '',
});
const STEPS = [step('cut', 'cut', { times: 100 }), step('filter', 'filter', { volume_ml: 200 })];

const sheet = (more: Partial<RunSheetAnswer> = {}): RunSheetAnswer =>
  ({
    run: { id: 'r1', name: 'Run 1', kind: 'specimen-run', study: 's', session: '1' },
    edition: { id: 'e', label: 'e', steps: STEPS },
    deviations: [],
    taps: [],
    fractions: [],
    filters: [],
    setup_photos: [],
    covering: {
      controls: [{ runs: ['c1'], name: 'C1', kind: 'act-control', steps: STEPS }],
      product: [],
      tolerances: null,
    },
    dishes: [],
    confidence: 0.95,
    smallest_um: 50,
    ...more,
  }) as never;

let number = 0;
const tapped = (deed: TapDeed, id = freshId()): DeviceTap => {
  number += 1;
  const at = new Date(Date.UTC(2026, 0, 5, 9, 0, number)).toISOString();
  return { number, id, run: 'r1', study: 's', deed, at, held: null };
};
const reckoned = (given: RunSheetAnswer, here: readonly DeviceTap[]) =>
  onDevice(given, allTaps(given, here, 'telephone'));

describe('a run as the device knows it', () => {
  it('shows a tap before the laboratory has it, and once when both have it', () => {
    const begin = tapped({ do: 'begin' });
    expect(reckoned(sheet(), [begin]).sheet.state).toBe('under-way');
    const there = { ...begin, device: 'telephone', refusal: null, by: null } as never;
    expect(allTaps(sheet({ taps: [there] }), [begin], 'telephone')).toHaveLength(1);
    expect(allTaps(sheet(), [{ ...begin, run: 'r2' }], 'telephone')).toEqual([]);
  });

  it('grades a deviation at once, and undoing it before it was sent takes it away', () => {
    expect(reckoned(sheet(), []).covered?.background.serving).toHaveLength(1);
    const rinse = tapped({
      do: 'otherwise',
      step: 'cut',
      kind: 'put-in',
      as_done: step('rinse', 'rinse'),
      what: 'Rinse put in',
      why: '',
    });
    const after = reckoned(sheet(), [rinse]);
    expect(after.sheet.steps.map((line) => line.step.key)).toEqual(['cut', 'rinse', 'filter']);
    expect(after.covered?.background.serving).toEqual([]);
    expect(after.covered?.gaps.map((gap) => gap.step.key)).toContain('rinse');
    const undone = reckoned(sheet(), [rinse, tapped({ do: 'undo', tap: rinse.id })]);
    expect(undone.deviations).toEqual([]);
    expect(undone.covered?.background.serving).toHaveLength(1);
  });

  it('parts a filtration into what passed and what is left, and drops what the laboratory still lists once it is undone here', () => {
    const filtered = tapped({
      do: 'filtered',
      step: 'filter',
      filter: null,
      passed_ml: 120,
      remainder_ml: 60,
      remainder: freshId(),
      place: 'shelf',
      fate: 'kept',
      clogged: true,
    });
    const here = reckoned(sheet(), [filtered]);
    expect(here.fractions.map((one) => [one.kind, one.volume_ml])).toEqual([
      ['passed', 120],
      ['remainder', 60],
    ]);
    expect(here.balance).toMatchObject({ missingMl: 20, agrees: false });
    expect(here.sheet.clogged).toBe(true);
    const listed = sheet({ fractions: here.fractions.map((one) => ({ ...one })) });
    expect(reckoned(listed, [filtered]).fractions).toHaveLength(2);
    const undone = [filtered, tapped({ do: 'undo', tap: filtered.id })];
    expect(reckoned(listed, undone).fractions).toEqual([]);
  });

  it('gives identities that the laboratory takes, each another', () => {
    const ids = Array.from({ length: 200 }, freshId);
    for (const id of ids)
      expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    expect(new Set(ids).size).toBe(200);
  });
});

describe('a step that was changed', () => {
  const asked = [{ name: 'times', label: 'how many times', least: 1, most: 1000 }];
  it('says what was changed and keeps the rest', () => {
    const made = changedStep(STEPS[0]!, { vessel: 'bowl', tool: '' }, { times: '80' }, asked);
    expect(made).toMatchObject({
      what: 'vessel bowl, how many times 80 times',
      step: { quantities: { times: 80 } },
    });
  });
  it('finds nothing changed, and refuses what cannot be', () => {
    expect(changedStep(STEPS[0]!, { vessel: 'beaker' }, { times: '100' }, asked)).toMatchObject({ what: '' });
    expect(changedStep(STEPS[0]!, {}, { times: 'many' }, asked)).toContain('a number is needed');
    expect(changedStep(STEPS[0]!, {}, { times: '0' }, asked)).toContain('from 1 times to 10000 times');
  });
});
