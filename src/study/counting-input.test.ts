import { describe, expect, it } from 'vitest';
import { balance } from './bench-record/balance.ts';
import { type RunForInput, studyInput } from './counting-input.ts';
import type { RunBackground } from './coverage/index.ts';
import type { Step } from './records/procedure.ts';
import type { ControlKind, Run, RunId, RunKind } from './records/run.ts';
import type { Portion, Specimen, SpecimenId } from './records/specimen.ts';

const BOARD = { id: 'board' as SpecimenId, name: 'Worn board' } as Specimen;
const run = (
  name: string,
  kind: RunKind,
  count: number | null,
  background?: RunBackground | null,
): RunForInput => ({
  run: { id: name as RunId, name, kind, spike: null } as Run,
  count,
  kept: count ?? 0,
  unmarked: 0,
  dropped: 0,
  passed: 1,
  examined: count === null ? null : 1,
  extent: null,
  floorUm: null,
  overlap: false,
  portion: kind === 'specimen' ? ({ massG: 10 } as Portion) : null,
  specimen: kind === 'specimen' ? BOARD : null,
  recovered: null,
  ...(background === undefined ? {} : { background }),
});
const served = (...controls: [string, number?][]): RunBackground => ({
  serving: controls.map(([name, scale = 1]) => ({
    control: name as RunId,
    kind: 'act-control' as ControlKind,
    scale,
  })),
  scaled: [],
  unknown: [],
  nearest: null,
});
const UNMATCHED: RunBackground = {
  serving: [],
  scaled: [],
  unknown: [],
  nearest: {
    name: 'C1',
    kind: 'act-control',
    changes: [
      {
        step: 'digest',
        grade: 'different',
        words: 'the reagent lot “K-2” at “digest”',
        leavesOpen: 'the reagent',
      },
    ],
  },
};
const why = (notes: readonly { why: string }[]) => notes.map((note) => note.why);

describe('which controls a run is judged against', () => {
  it('is every control of the first kind where no procedure is on record', () => {
    const { input, background } = studyInput(
      [run('S1', 'specimen', 9), run('C1', 'act-control', 2), run('B1', 'procedural-blank', 1)],
      BOARD.id,
      0.95,
    );
    expect(background).toBe('act-control');
    expect(input.controls.map(({ name }) => name)).toEqual(['C1']);
  });

  it('leaves out a control that went another way, and a run that has none left', () => {
    const { input, leftOut, serving, notes } = studyInput(
      [
        run('S1', 'specimen', 9, served(['C1'])),
        run('S2', 'specimen', 30, UNMATCHED),
        run('C1', 'act-control', 2),
        run('C2', 'act-control', 40),
      ],
      BOARD.id,
      0.95,
    );
    expect(input.portions.map(({ name }) => name)).toEqual(['S1']);
    expect(input.controls.map(({ name }) => name)).toEqual(['C1']);
    expect(serving).toEqual(['C1']);
    expect(leftOut).toEqual(['S2']);
    const note = notes.find((one) => one.why === 'control-does-not-match');
    expect(note).toMatchObject({ run: 'S2', place: 'procedure' });
    expect(note?.message).toBe(
      'Run S2 has no background of its own and is left out: the reagent may explain its particles. One act control more like C1, but with the reagent lot “K-2” at “digest”, closes this.',
    );
  });

  it('goes on to the next kind where none of the first serves', () => {
    const matrix: RunBackground = {
      ...served(),
      serving: [{ control: 'M1' as RunId, kind: 'matrix-blank', scale: 1 }],
    };
    const { background, input } = studyInput(
      [run('S1', 'specimen', 9, matrix), run('C1', 'act-control', 2), run('M1', 'matrix-blank', 3)],
      BOARD.id,
      0.95,
    );
    expect(background).toBe('matrix-blank');
    expect(input.controls.map(({ name }) => name)).toEqual(['M1']);
  });

  it('keeps the runs and no control where nothing serves, so that the claim cannot be judged', () => {
    const { background, input, notes } = studyInput(
      [run('S1', 'specimen', 9, UNMATCHED), run('C1', 'act-control', 2)],
      BOARD.id,
      0.95,
    );
    expect(background).toBeNull();
    expect(input.portions).toHaveLength(1);
    expect(input.controls).toEqual([]);
    expect(why(notes)).toContain('no-matching-control');
    expect(why(notes)).toContain('control-does-not-match');
  });

  it('carries half the reagent as half the effort: its count stands for twice as many', () => {
    const { input } = studyInput(
      [
        run('S1', 'specimen', 9, { ...served(['C1', 2]), scaled: ['the volume 400 mL'] }),
        run('C1', 'act-control', 3),
      ],
      BOARD.id,
      0.95,
    );
    expect(input.controls[0]).toMatchObject({ count: 3, passed: 1, examined: 0.5 });
  });

  it('says when a group of runs rests on too small a share of the controls', () => {
    const early = served(['C1']);
    const late = served(['C2'], ['C3'], ['C4'], ['C5']);
    const { notes } = studyInput(
      [
        ...['S1', 'S2', 'S3'].map((name) => run(name, 'specimen', 9, early)),
        run('S4', 'specimen', 9, late),
        ...['C1', 'C2', 'C3', 'C4', 'C5'].map((name) => run(name, 'act-control', 2)),
      ],
      BOARD.id,
      0.95,
    );
    expect(notes.find((note) => note.why === 'controls-out-of-balance')?.message).toContain(
      'S1, S2, S3: 3 of 4 runs, but only 1 of 5 controls',
    );
  });

  it('tells of a run whose own controls nobody has counted, and of those controls', () => {
    const { notes, leftOut } = studyInput(
      [
        run('S1', 'specimen', 9, served(['C1'])),
        run('S2', 'specimen', 9, served(['C2'])),
        run('C1', 'act-control', 2),
        run('C2', 'act-control', null),
      ],
      BOARD.id,
      0.95,
    );
    expect(leftOut).toEqual(['S2']);
    expect(notes.map(({ run: which, why: because }) => `${which} ${because}`)).toEqual(
      expect.arrayContaining(['C2 not-looked', 'S2 control-does-not-match']),
    );
  });

  it('says once what takes in several runs that went the same way', () => {
    const { notes } = studyInput(
      [
        run('S1', 'specimen', 9, served(['C1'])),
        ...['S2', 'S3', 'S4'].map((name) => run(name, 'specimen', 9, UNMATCHED)),
        run('C1', 'act-control', 2),
      ],
      BOARD.id,
      0.95,
    );
    const told = notes.filter((note) => note.why === 'control-does-not-match');
    expect(told).toHaveLength(1);
    expect(told[0]!.message).toMatch(/^Runs S2, S3 and S4 have no background of their own and are left out/);
  });

  it('leaves a run out of the amount whose volumes cannot be, and says so', () => {
    const pouring = {
      key: 'filter',
      kind: 'filter',
      quantities: { volume_ml: 200 },
      touches: {},
    } as unknown as Step;
    const withVolumes = (name: string, kind: RunKind, outMl: number): RunForInput => ({
      ...run(name, kind, 5),
      balance: balance([pouring], [{ kind: 'passed', fate: 'examined', volumeMl: outMl } as never]),
    });
    const { input, leftOut, heldOut, notes } = studyInput(
      [
        withVolumes('S1', 'specimen', 200),
        withVolumes('S2', 'specimen', 230),
        withVolumes('S3', 'specimen', 5200),
        withVolumes('C1', 'act-control', 198),
        withVolumes('C2', 'act-control', 5200),
      ],
      BOARD.id,
      0.95,
    );
    expect(input.portions.map(({ name }) => name)).toEqual(['S1', 'S2']);
    expect(input.controls.map(({ name }) => name)).toEqual(['C1']);
    expect(leftOut).toEqual(['S3']);
    expect(heldOut.map((one) => one.run)).toEqual(['S3', 'C2']);
    const said = notes.filter((note) => note.why === 'volumes-do-not-agree');
    expect(said.map((note) => note.run)).toEqual(['S2', 'S3', 'C2']);
    expect(said[1]!.message).toContain('5200 mL came out of 200 mL');
    expect(said[1]!.message).toContain('left out of the amount');
    expect(said[0]!.message).not.toContain('left out');
  });
});
