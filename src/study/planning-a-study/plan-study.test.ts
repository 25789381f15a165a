import { describe, expect, it } from 'vitest';
import { coverRun } from '../coverage/index.ts';
import { makeEdition } from '../records/procedure.ts';
import type { RunId } from '../records/run.ts';
import { makeStudy } from '../records/study.ts';
import { ACTS, FIRST_ANSWERS, type PlanAnswers } from './answers.ts';
import { planStudy, type StudyPlan } from './plan-study.ts';

const UUID = '01234567-89ab-7cde-8f01-23456789abcd';
const AT = '2026-03-01T09:00:00.000Z';
const BOARD: PlanAnswers = {
  ...FIRST_ANSWERS,
  product: 'chopping board of polyethylene',
  polymers: ['PE'],
  act: 'cut',
  matrix: 'plant',
  matrixG: 100,
  liquidWords: 'filtered water',
  massG: 100,
  person: 'Ada Example',
  setting: 'laboratory',
  equipment: [
    'thermometer',
    'water-bath',
    'goggles-and-gloves',
    'vented-vessel',
    'balance',
    'fume-hood',
    'ice-bath',
  ],
  hours: 100,
};
const plan = (answers: Partial<PlanAnswers> = {}): StudyPlan => {
  const outcome = planStudy({ ...BOARD, ...answers });
  if (!outcome.ok) throw new Error(outcome.refusal.message);
  return outcome.value;
};

describe('a plan from ten answers', () => {
  it('has the design of a comfortable first study: six and six, three blanks, three spikes, a dish each sitting', () => {
    const count = (kind: string) => plan().runs.filter((run) => run.kind === kind).length;
    expect(count('specimen')).toBe(6);
    expect(count('procedural-blank') + count('matrix-blank')).toBeGreaterThanOrEqual(3);
    expect(count('spiked-run')).toBe(3);
    expect(count('air-control')).toBe(3);
    expect(plan().controls[0]).toMatchObject({ candidate: { name: 'act-control' }, number: 6 });
  });

  it.each(ACTS)('writes procedures for “%s” that can be kept, and an act control that serves', (act) => {
    const made = plan({ act, setting: act === 'mouth' ? 'kitchen' : 'laboratory', hottestC: 60 });
    for (const { name, steps } of made.procedures) {
      const edition = makeEdition({
        id: UUID,
        procedure: UUID,
        number: 1,
        steps,
        because: '',
        madeAt: AT,
        by: UUID,
      });
      expect(edition.ok ? '' : `${name}: ${edition.refusal.message}`).toBe('');
    }
    const study = makeStudy({
      id: UUID,
      name: made.name,
      invented: false,
      question: made.question,
      madeAt: AT,
      by: UUID,
    });
    expect(study.ok ? '' : study.refusal.message).toBe('');
    const control = made.procedures.find((one) => one.name === 'Act control')!;
    const covered = coverRun(
      made.procedures[0]!.steps,
      [{ runs: ['C' as RunId], name: 'C', kind: 'act-control', steps: control.steps }],
      [made.specimen],
    );
    expect(covered.background.nearest?.changes ?? []).toEqual([]);
    expect(covered.background.serving).toHaveLength(1);
  });

  it('puts runs and controls by turns and known pieces last in their sitting', () => {
    const { runs } = plan();
    for (const session of [1, 2, 3]) {
      const kinds = runs.filter((run) => run.session === session).map((run) => run.kind);
      expect(kinds).toContain('specimen');
      expect(kinds).toContain('act-control');
      expect(kinds.indexOf('spiked-run')).toBe(kinds.length - 1);
    }
    expect(new Set(runs.map((run) => run.name)).size).toBe(runs.length);
  });

  it('takes every change, with the reason of the proposal beside it', () => {
    const made = plan({ changed: { specimens: 9, poreUm: 5, sizeFromUm: 50 } });
    expect(made.runs.filter((run) => run.kind === 'specimen')).toHaveLength(9);
    expect(made.question.sizeFromUm).toBe(50);
    const pore = made.choices.find((choice) => choice.key === 'poreUm')!;
    expect(pore).toMatchObject({ shown: '5 µm', changed: true });
    for (const choice of made.choices) expect(choice.because.length, choice.key).toBeGreaterThan(20);
  });

  it('says when hours or pieces do not suffice, and never plans below four and four by itself', () => {
    const made = plan({ hours: 5, pieces: 2 });
    expect(made.short.join(' ')).toContain('there are 5');
    expect(made.short.join(' ')).toContain('2 pieces of the product');
    expect(made.runs.filter((run) => run.kind === 'act-control').length).toBeGreaterThanOrEqual(4);
  });

  it('asks for a hot and a cooled part where it gets hot, and for a coupon where something is digested', () => {
    expect(plan({ hottestC: 95 }).alsoDo[0]?.what).toContain('hot');
    expect(plan({ hottestC: 20 }).alsoDo.some(({ what }) => what.includes('cooling'))).toBe(false);
    expect(plan().alsoDo.some(({ what }) => what.includes('digestion'))).toBe(true);
  });

  it('is not ready before the safety questions are answered, where the work can hurt', () => {
    const { gate, cautions } = plan({ changed: { reagent: 'peroxide' } });
    expect(gate.ready).toBe(false);
    expect(gate.missing.length).toBeGreaterThan(0);
    expect(cautions.join(' ')).toContain('data sheets');
    const safe = plan({ act: 'steep', matrix: 'clean-water', matrixG: 0 });
    expect(safe.procedures[0]!.steps.some((step) => step.kind === 'digest')).toBe(false);
  });

  it('refuses a mouth in a laboratory, and an answer that cannot be, in a sentence', () => {
    expect(planStudy({ ...BOARD, act: 'mouth' })).toMatchObject({ refusal: { why: 'mouth-in-laboratory' } });
    expect(planStudy({ ...BOARD, hottestC: 300 })).toMatchObject({
      refusal: { message: 'Hottest: from -20 to 100 °C is taken; given 300.' },
    });
    expect(planStudy({ ...BOARD, product: ' ' })).toMatchObject({ refusal: { why: 'no-product' } });
  });

  it('gives the same plan every time', () => {
    expect(plan()).toEqual(plan());
  });
});
