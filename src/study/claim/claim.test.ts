import { describe, expect, it } from 'vitest';
import { type CountingInput, judge } from '../../science/counting/index.ts';
import { um } from '../../units/index.ts';
import { CLAIM_STATES, type Claim, type ClaimFacts, COUNTS_ALONE, claimFrom, lockedWordIn } from './index.ts';

const run = (count: number, massG = 1) => ({
  name: 'a',
  kind: 'act control',
  count,
  massG,
  passed: 1,
  examined: 1,
});
const input = (portions: number[], controls: number[], more: Partial<CountingInput> = {}): CountingInput => ({
  portions: portions.map((n) => run(n)),
  controls: controls.map((n) => run(n)),
  recovery: { found: 45, added: 50 },
  drill: null,
  confidence: 0.95,
  ...more,
});
const study: ClaimFacts = {
  ...COUNTS_ALONE,
  basis: 'study',
  sizeFloorUm: um(80),
  scope: { fromUm: um(50), toUm: um(1000) },
};
const claim = (counts: CountingInput, facts: ClaimFacts = COUNTS_ALONE): Claim =>
  claimFrom(judge(counts), facts);
const whys = (list: readonly { why: string }[]): string[] => list.map((r) => r.why);

const strong = input([24, 31, 22, 27, 29, 25], [2, 3, 1, 4, 2, 3]);
const gap = { step: 'chop', leavesOpen: 'wear of the knife', control: 'the same knife on glass' } as const;

const made: [Claim['state'], string, Claim][] = [
  ['cannot-be-judged', 'no controls', claim(input([5], []))],
  [
    'cannot-be-judged',
    'a step that no control repeats',
    claim(strong, { ...study, gaps: [{ ...gap, grade: 'missing' }] }),
  ],
  ['cannot-be-judged', 'a study with two controls', claim(input([9, 8, 9], [1, 0]), study)],
  ['cannot-be-judged', 'no spike found again', claim(input([9], [1], { recovery: { found: 0, added: 20 } }))],
  ['not-measured', 'no portion', claim(input([], [1]))],
  [
    'not-measured',
    'sizes below what the optics show',
    claim(strong, { ...study, scope: { fromUm: um(1), toUm: um(50) } }),
  ],
  ['not-measured', 'too little examined', claim(strong, { ...study, examinedRequired: 0.5, examined: 0.2 })],
  ['not-measured', 'nothing passed', claim({ ...input([], [1]), portions: [{ ...run(0), passed: 0 }] })],
  ['not-detected', 'none seen', claim(input([0, 0], [0, 0]))],
  ['not-detected', 'fewer than the background', claim(input([2, 1], [5, 4]))],
  ['not-distinguishable', 'a little more than the background', claim(input([4], [0]))],
  ['detected-not-quantified', 'an excess with an amount too uncertain', claim(input([5], [0]))],
  ['detected-not-quantified', 'an excess without recovery', claim({ ...strong, recovery: null })],
  [
    'detected-not-quantified',
    'an excess with poor recovery',
    claim({ ...strong, recovery: { found: 20, added: 50 } }),
  ],
  [
    'detected-not-quantified',
    'an excess in three runs of a study',
    claim(input([24, 31, 22], [2, 3, 1, 4, 2, 3]), study),
  ],
  ['quantified', 'a clear excess', claim(strong, study)],
];

describe('the state of a claim', () => {
  it.each(made)('%s: %s', (state, _what, found) => {
    expect(found.state).toBe(state);
  });

  it('is made in every state by these examples', () => {
    expect([...new Set(made.map(([state]) => state))].sort()).toEqual([...CLAIM_STATES].sort());
  });

  it('lets a step that is merely unrecorded stand as a reservation', () => {
    const found = claim(strong, { ...study, gaps: [{ ...gap, grade: 'unknown' }] });
    expect(found.state).toBe('quantified');
    expect(whys(found.because)).toContain('control-unknown');
    expect(whys(found.next)).toContain('close-gap');
  });

  it('stands on counts alone with one blank, and says on what it rests', () => {
    const found = claim(input([5], [0]));
    expect(found.because.find((r) => r.why === 'controls-assumed-poisson')!.message).toMatch(
      /no more than Poisson/,
    );
    expect(whys(found.next)).toContain('reach-minimum');
  });
});

describe('the sentence', () => {
  it.each(made)('uses no locked word and no broken number (%s: %s)', (_state, _what, found) => {
    const texts = [
      found.sentence,
      ...found.because.map((r) => r.message),
      ...found.next.flatMap((n) => [n.message, n.moves]),
    ];
    for (const text of texts) {
      expect(lockedWordIn(text), text).toBeNull();
      expect(text).not.toMatch(/NaN|undefined|null|Infinity|\[object/);
      expect(text.trim()).toMatch(/[.]$/);
    }
    expect(found.because.length).toBeGreaterThan(0);
  });

  it('gives the number with unit, interval and confidence', () => {
    expect(claim(strong, study).sentence).toBe(
      '26 (20 to 44) suspected plastic pieces (told by eye) per gram above the background, 95 % interval (pieces of 80 to 1000 µm).',
    );
  });

  it('tells none seen from an absence by its upper limit', () => {
    expect(claim(input([0], [0], { recovery: null })).sentence).toBe(
      'None seen in 1 specimen run: fewer than 3.0 per gram (one-sided 95 % upper limit).',
    );
  });

  it('keeps what could not have been seen apart from what was not there', () => {
    const part = claim(input([0, 0, 0, 0], [0, 0, 0, 0]), study);
    expect(part.sentence).toContain('pieces of 80 to 1000 µm');
    expect(part.because.find((r) => r.why === 'below-size-floor')!.message).toMatch(
      /could not have been seen/,
    );
    const all = claim(strong, { ...study, scope: { fromUm: um(1), toUm: um(50) } });
    expect(all.netPerGram).toBeNull();
    expect(all.sentence).toMatch(/were not measured/);
  });

  it('names how pieces were identified', () => {
    const identification = { ...COUNTS_ALONE.identification, tested: 40, passed: 36, atRandom: true };
    const part = { value: 0.9, lower: 0.76, upper: 0.97, confidence: 0.95 };
    const melts = claim(strong, {
      ...study,
      identification: { ...identification, by: 'melts', share: part },
    });
    expect(melts.sentence).toMatch(/pieces that melt .*of the pieces tested, 90 % \(76 % to 97 %\) are so/);
    const polymer = claim(strong, {
      ...study,
      identification: { ...identification, by: 'polymer', polymer: 'polyethylene' },
    });
    expect(polymer.sentence).toMatch(/pieces of polyethylene/);
    expect(polymer.identifiedBy).toBe('polymer');
  });

  it('attributes only what matches, exceeds the act, and rises with dose', () => {
    const attribution = { matchesReference: true, aboveActControls: true, risesWithDose: true };
    expect(claim(strong, { ...study, attribution }).sentence).toMatch(
      /consistent with release from the product/,
    );
    expect(claim(strong, { ...study, attribution: { ...attribution, risesWithDose: null } }).attributed).toBe(
      false,
    );
    expect(claim(input([4], [0]), { ...study, attribution }).attributed).toBe(false);
  });
});

describe('what would move it', () => {
  it('says how far two more blanks move the threshold', () => {
    const step = claim(input([4], [0])).next.find((n) => n.why === 'more-controls')!;
    expect(step.moves).toBe('If they look like the others, the count that stands out goes from 5 to 3.');
  });

  it('counts the runs that are missing', () => {
    const few = claim(input([9, 8], [1]), study).next.find((n) => n.why === 'reach-minimum')!;
    expect(few.message).toBe('Make 3 more matching controls and 2 more specimen runs.');
    const three = claim(input([9, 8, 12], [1, 0, 2, 1]), study).next.find((n) => n.why === 'reach-minimum')!;
    expect(three.message).toBe('Make 1 more specimen run.');
  });

  it('names the work that narrows the interval most', () => {
    const scattered = claim(input([14, 3, 25, 9], [3, 5, 4, 2]), study);
    expect(scattered.state).not.toBe('quantified');
    const step = scattered.next.find((n) => n.why === 'more-specimen-runs')!;
    expect(step.moves).toMatch(
      /% of the uncertainty comes from there: the interval \(.+\) shrinks to about \(.+\) per gram/,
    );
    const spiked = claim({ ...strong, recovery: { found: 4, added: 6 } }, study);
    expect(whys(spiked.next)).toContain('more-spikes');
  });

  it('asks for blanks when there are none', () => {
    const found = claim(input([5], []));
    expect(found.next[0]).toMatchObject({ why: 'first-controls' });
    expect(found.next[0]!.moves).toContain('3 particles');
  });

  it('leaves nothing open without a next step, whenever the claim can grow', () => {
    for (const [state, what, found] of made) {
      if (state === 'quantified' || state === 'not-measured') continue;
      if (what === 'no spike found again') continue;
      expect(found.next.length, what).toBeGreaterThan(0);
    }
  });
});

describe('runs that no control matches', () => {
  it('are named among the reasons, with the control that takes them in again', () => {
    const judged = judge({ portions: [], controls: [], recovery: null, drill: null, confidence: 0.95 });
    const facts: ClaimFacts = {
      ...COUNTS_ALONE,
      leftOut: [
        { run: 'worn-6', control: 'one more act control like glass-4, but with the reagent lot “K-2”' },
      ],
    };
    const claim = claimFrom(judged, facts);
    expect(claim.because.map(({ message }) => message)).toContain(
      'Recorded and not judged, because no control went their way: worn-6.',
    );
    expect(claim.next.find(({ why }) => why === 'match-run')?.message).toBe(
      'Run this control: one more act control like glass-4, but with the reagent lot “K-2”.',
    );
  });
});

describe('figures in sentences', () => {
  it('are never coarser than the interval beside them', () => {
    const many = [4283, 4290, 4270, 4300, 4280, 4277];
    const { sentence, because } = claim(input(many, many));
    expect(sentence).toContain('25700 counted, 25700 (25390 to 26020) expected');
    expect(because[0]!.message).toContain('25700 in 6 controls, so 25700 are expected');
    const [, value, lower] = /, (\d[\d.]*) \(([\d.]+) to [\d.]+\) expected/.exec(
      claim(input([1, 0, 2, 1, 0], [1, 2, 0, 1, 1])).sentence,
    )!;
    const decimals = (text: string) => text.split('.')[1]?.length ?? 0;
    expect(decimals(value!)).toBeGreaterThanOrEqual(decimals(lower!));
  });
});
