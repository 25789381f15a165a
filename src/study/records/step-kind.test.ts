import { describe, expect, it } from 'vitest';
import { compareSteps, coverRun } from '../coverage/index.ts';
import type { StepKind } from '../step-kinds/index.ts';
import { makeEdition, type Step } from './procedure.ts';
import type { RunId } from './run.ts';
import { makeOwnStepKind } from './step-kind.ts';

const UUID = '01234567-89ab-7cde-8f01-23456789abcd';
const AT = '2026-03-01T09:00:00.000Z';
const RUB: StepKind = {
  kind: 'rub-with-cloth',
  says: 'Rub with a cloth',
  quantities: [{ name: 'times', label: 'strokes', least: 1, most: 1000, tolerance: 0, scales: true }],
  touches: ['tool', 'vessel'],
  brings: ['act', 'air'],
  makes: [],
};
const declare = (more: Partial<StepKind>) => makeOwnStepKind({ ...RUB, ...more, at: AT, by: UUID });
const why = (more: Partial<StepKind>) => {
  const made = declare(more);
  return made.ok ? 'taken' : made.refusal.why;
};
const rub = (strokes: number, tool = 'cotton cloth'): Step => ({
  own: RUB,
  key: 'rub',
  kind: RUB.kind,
  quantities: { times: strokes },
  touches: {
    vessel: null,
    tool,
    liquid: null,
    reagentLot: null,
    place: 'bench',
    person: 'Ada',
    filterLot: null,
    optics: null,
  },
  minutesUncovered: 2,
  openings: null,
  note: '',
});

describe('a kind of step of a laboratory’s own', () => {
  it('is taken when it is whole, and refused with what it lacks', () => {
    expect(declare({}).ok).toBe(true);
    expect(why({ kind: 'cut' })).toBe('name-taken');
    expect(why({ kind: 'Rub it!' })).toBe('not-a-kind');
    expect(why({ brings: [] })).toBe('brings-nothing');
    expect(why({ quantities: [{ ...RUB.quantities[0]!, name: 'strokes' }] })).toBe('no-unit');
    expect(why({ quantities: [{ ...RUB.quantities[0]!, least: 9, most: 3 }] })).toBe('upside-down');
  });

  it('rules the steps that carry it, and is unknown without its declaration', () => {
    const edition = (step: object) =>
      makeEdition({
        id: UUID,
        procedure: UUID,
        number: 1,
        steps: [step as Step],
        because: '',
        madeAt: AT,
        by: UUID,
      });
    expect(edition(rub(40)).ok).toBe(true);
    expect(edition(rub(5000))).toMatchObject({ refusal: { why: 'impossible-step' } });
    const { own: _, ...bare } = rub(40);
    expect(edition(bare)).toMatchObject({ refusal: { why: 'unknown-kind' } });
  });

  it('is compared like any other: half the strokes scale, another cloth bars, a missing one leaves its causes alive', () => {
    expect(compareSteps([rub(40)], [rub(40)]).matches).toBe(true);
    const against = (control: readonly Step[]) =>
      coverRun([rub(40)], [{ runs: ['C' as RunId], name: 'C', kind: 'act-control', steps: control }], []);
    expect(against([rub(20)]).background.serving[0]?.scale).toBe(2);
    expect(against([rub(40, 'nylon cloth')]).background.serving).toEqual([]);
    expect(against([]).gaps.map(({ cause }) => cause)).toEqual(['act', 'air']);
  });
});
