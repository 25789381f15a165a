import { describe, expect, it } from 'vitest';
import type { RunForInput } from '../counting-input.ts';
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

  it('does not try what there is nothing of', () => {
    const bare = runs.filter((r) => r.run.kind === 'specimen' || r.run.kind === 'act-control');
    const decided = bare.map((r) => ({ ...r, unmarked: 0, count: r.kept }));
    expect(choicesOf(decided, board, 0.95)).toEqual([]);
  });
});
