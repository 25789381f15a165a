import { describe, expect, it } from 'vitest';
import { type RunForInput, studyInput } from './counting-input.ts';
import type { RunId } from './records/run.ts';
import type { SpecimenId } from './records/specimen.ts';
import { bordersBetween, recoveryStrata } from './recovery-of-runs.ts';

const spiked = (name: string, sizeUm: number | null, recovered: number, added = 40) =>
  ({
    run: { id: name, name, kind: 'spiked-run', spike: { added, sizeUm, colour: 'orange', material: '' } },
    count: recovered,
    examined: 1,
    passed: 1,
    recovered,
  }) as unknown as RunForInput & { recovered: number };
const held = (near: readonly [number, number][]) => ({ nearSpike: new Map(near) });

describe('recovery by the size of the known pieces', () => {
  const specimens = [
    held([
      [100, 2],
      [300, 1],
    ]),
    held([
      [100, 1],
      [300, 1],
    ]),
  ];
  const controls = [
    held([
      [100, 1],
      [300, 0],
    ]),
  ];

  it('parts sizes in the middle of their logarithms', () => {
    expect(bordersBetween([100, 400, 1600])).toEqual([200, 800]);
    expect(bordersBetween([100])).toEqual([]);
  });

  it('holds the known pieces of each size with what was counted nearest to it', () => {
    const runs = [spiked('R1', 100, 20), spiked('R2', 300, 36), spiked('R3', 100, 22)];
    expect(recoveryStrata(runs, specimens, controls)).toEqual([
      {
        name: 'about 100 µm',
        spikes: [
          { found: 20, added: 40 },
          { found: 22, added: 40 },
        ],
        specimens: 3,
        controls: 1,
      },
      { name: 'about 300 µm', spikes: [{ found: 36, added: 40 }], specimens: 2, controls: 0 },
    ]);
  });

  it.each([
    ['one size', [spiked('R1', 100, 20), spiked('R2', 100, 22)]],
    ['no sizes', [spiked('R1', null, 20), spiked('R2', null, 22)]],
    ['a run without a size', [spiked('R1', 100, 20), spiked('R2', 300, 20), spiked('R3', null, 22)]],
    ['nothing back of one size', [spiked('R1', 100, 0), spiked('R2', 300, 30)]],
    ['more back than put in', [spiked('R1', 100, 50), spiked('R2', 300, 30)]],
  ])('is not told apart by %s', (_, runs) => {
    expect(recoveryStrata(runs, specimens, controls)).toEqual([]);
  });

  it('is not told apart where pieces were sorted by a size that does not speak', () => {
    const sorted = [
      held([
        [100, 2],
        [300, 1],
        [900, 1],
      ]),
    ];
    expect(recoveryStrata([spiked('R1', 100, 20), spiked('R2', 300, 36)], sorted, [])).toEqual([]);
  });
});

describe('which spiked runs correct a claim', () => {
  const board = 'board' as SpecimenId;
  const specimen = (name: string, serving: string[], others: string[]): RunForInput =>
    ({
      run: { id: name, name, kind: 'specimen' },
      specimen: { id: board },
      portion: { massG: 1, pieces: null },
      count: 9,
      kept: 9,
      unmarked: 0,
      dropped: 0,
      passed: 1,
      examined: 1,
      recovery: {
        serving: serving as RunId[],
        others: others.map((run) => ({ runs: [run as RunId], words: ['on filters with 5 µm pores'] })),
        doubts: serving.length > 0 ? ['the reagent lot “K-2” at “digest” is another'] : [],
      },
    }) as unknown as RunForInput;
  const control = {
    run: { id: 'C1', name: 'C1', kind: 'act-control' },
    count: 2,
    kept: 2,
    unmarked: 0,
    dropped: 0,
    passed: 1,
    examined: 1,
  } as unknown as RunForInput;
  const told = (runs: readonly RunForInput[]) => {
    const { input, notes } = studyInput(runs, board, 0.95);
    return { recovery: input.recovery, why: notes.map((note) => note.why), notes };
  };

  it('are those that lose as the runs lose; the others are left out and named', () => {
    const found = told([
      specimen('S1', ['R1'], ['R2']),
      control,
      spiked('R1', null, 30),
      spiked('R2', null, 10),
    ]);
    expect(found.recovery).toEqual({ found: 30, added: 40 });
    const note = found.notes.find(({ why }) => why === 'spike-does-not-match')!;
    expect(note.message).toMatch(/^R2 went another way.*5 µm pores/);
    expect(found.why).toContain('spike-in-doubt');
  });

  it('are none where all went another way: recovery is then not measured', () => {
    const found = told([specimen('S1', [], ['R2']), control, spiked('R2', null, 10)]);
    expect(found.recovery).toBeNull();
    expect(found.why).toContain('spike-does-not-match');
    expect(found.why).not.toContain('no-recovery');
  });

  it('say so where they stand for runs that went another way', () => {
    const runs = [specimen('S1', ['R1'], []), specimen('S2', [], ['R1']), control, spiked('R1', null, 30)];
    const found = told(runs);
    expect(found.recovery).toEqual({ found: 30, added: 40 });
    expect(found.notes.find(({ why }) => why === 'spike-does-not-match')!.message).toMatch(/S2/);
  });

  it('are all of them where no procedure is on record', () => {
    const { recovery: _, ...bare } = specimen('S1', [], []);
    expect(told([bare, control, spiked('R1', null, 30), spiked('R2', null, 10)]).recovery).toEqual({
      found: 40,
      added: 80,
    });
  });
});
