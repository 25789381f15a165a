import { describe, expect, it } from 'vitest';
import { type RunForInput, studyInput } from '../counting-input.ts';
import type { Run } from '../records/run.ts';
import type { Portion, Specimen, SpecimenId } from '../records/specimen.ts';
import { choicesOf, robustnessOfStudy } from './index.ts';

const board = 'specimen_board' as SpecimenId;

function run(kind: Run['kind'], name: string, kept: number, unmarked = 0): RunForInput {
  return {
    run: { id: `run_${name}`, kind, name, spike: { added: 60 } } as Run,
    count: kept + unmarked,
    kept,
    unmarked,
    dropped: 0,
    passed: 1,
    examined: 1,
    extent: null,
    floorUm: null,
    overlap: false,
    portion: kind === 'specimen' ? ({ massG: 1 } as Portion) : null,
    specimen: kind === 'specimen' ? ({ id: board } as Specimen) : null,
    recovered: kind === 'spiked-run' ? 50 : null,
  };
}

const runs = [
  ...[14, 11, 16, 12].map((n, i) => run('specimen', `S${i}`, n, 6)),
  ...[3, 2, 4, 1].map((n, i) => run('act-control', `A${i}`, n, 1)),
  ...[1, 0, 2].map((n, i) => run('procedural-blank', `P${i}`, n)),
  ...[0, 1].map((i) => run('spiked-run', `R${i}`, 0)),
];

describe('the robustness strip of a study', () => {
  it('tries what can be tried: undecided pieces out, the other controls, no recovery, another size', () => {
    const choices = choicesOf(runs, board, 0.95, [{ sizeFromUm: 200, runs }]);
    expect(choices.map((c) => `${c.what}: ${c.choice}`)).toEqual([
      'undecided pieces: left out until somebody has looked',
      'background: from each procedural blank',
      'size: pieces of 200 µm and more',
      'recovery: not corrected for',
    ]);
    expect(choices[0]!.input.portions.map((p) => p.count)).toEqual([14, 11, 16, 12]);
    expect(choices[1]!.input.controls.map((c) => c.kind)).toEqual(Array(3).fill('procedural-blank'));
  });

  it('says what share agrees', () => {
    const found = robustnessOfStudy(runs, board, 0.95);
    expect(found.base.above).toBe(true);
    expect(found.judged).toBeGreaterThan(8);
    expect(found.agreeing).toBe(found.judged);
  });

  it('tries without each thing that the model takes in beside the counts', () => {
    const unsure = { passed: 0.03, photographed: 0, counted: null, together: 0.03 };
    const near = (run: RunForInput) =>
      new Map([
        [100, run.count ?? 0],
        [300, 0],
      ]);
    const sized = runs.map((one, at): RunForInput => {
      const run =
        one.run.kind === 'spiked-run'
          ? { ...one.run, spike: { ...one.run.spike!, sizeUm: at % 2 === 0 ? 100 : 300 } }
          : one.run;
      return { ...one, run: run as Run, extent: unsure, nearSpike: near(one) };
    });
    const earlier = [
      { kind: 'act-control', runs: [3, 5].map((count) => ({ count, passed: 1, examined: 1 })) },
    ];
    const base = studyInput(sized, board, 0.95, earlier).input;
    expect(base.strata).toHaveLength(2);
    expect(base.history).toHaveLength(1);
    expect(base.portions[0]!.effortUncertainty).toBe(0.03);
    const choices = choicesOf(sized, board, 0.95, [], earlier);
    const of = (choice: RegExp) => choices.find((one) => choice.test(one.choice))!.input;
    expect(of(/one figure for all sizes/).strata).toBeUndefined();
    expect(of(/one figure for all sizes/).spikes).toEqual(base.spikes);
    expect(of(/without earlier controls/).history).toBeUndefined();
    expect(of(/known exactly/).portions[0]!.effortUncertainty).toBeUndefined();
    expect(of(/known exactly/).strata).toEqual(base.strata);
    expect(of(/not corrected for/)).toMatchObject({ recovery: null, history: base.history });
    // earlier controls of another kind tell nothing of these
    expect(
      studyInput(sized, board, 0.95, [{ ...earlier[0]!, kind: 'matrix-blank' }]).input.history,
    ).toBeUndefined();
  });

  it('does not try what there is nothing of', () => {
    const bare = runs.filter((r) => r.run.kind === 'specimen' || r.run.kind === 'act-control');
    const decided = bare.map((r) => ({ ...r, unmarked: 0, count: r.kept }));
    expect(choicesOf(decided, board, 0.95)).toEqual([]);
  });
});
