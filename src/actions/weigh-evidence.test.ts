import { describe, expect, it } from 'vitest';
import { chanceFrom } from '../science/maths/index.ts';
import type { BenchAnswer, Confirmation, Drill } from '../study/index.ts';
import { confirmedBy } from './confirmed.ts';
import { confirmationThatCounts, type Evidence, weighEvidence } from './weigh-evidence.ts';

const ids = (side: string, n: number) => Array.from({ length: n }, (_, k) => `${side}${k}` as never);
const confirmation = (specimens: number, controls: number): Confirmation => ({
  id: 'c' as never,
  study: 's' as never,
  name: 'C',
  test: 'heated-needle',
  seed: 1,
  strata: [
    { name: 'fibres', side: 'specimens', pieces: 4 * specimens, drawn: ids('s', specimens) },
    { name: 'all', side: 'controls', pieces: 2 * controls, drawn: ids('k', controls) },
  ],
  by: 'p' as never,
  at: '2026-01-05T09:00:00.000Z' as never,
});
const answer = (particle: string, value: string, more: Partial<BenchAnswer> = {}): BenchAnswer => ({
  id: `${particle} ${value}` as never,
  study: 's' as never,
  particle: particle as never,
  test: 'heated-needle',
  edition: 1,
  answer: { value, setting: 'tip-350' },
  origin: 'bench',
  outside: null,
  before: null,
  after: null,
  note: '',
  by: 'p' as never,
  at: '2026-01-05T09:00:00.000Z' as never,
  ...more,
});
const DRILL: Drill = { truePositive: [18, 20], falsePositive: [4, 20] };
const evidence = (confirmed: Evidence['confirmed'], answers: readonly BenchAnswer[] = []): Evidence => ({
  answers,
  sets: [],
  drillAnswers: [],
  rates: new Map(),
  confirmed,
  undecided: null,
});
const told = (specimens: readonly string[], controls: readonly string[]) =>
  [
    ...specimens.map((value, k) => answer(`s${k}`, value)),
    ...controls.map((value, k) => answer(`k${k}`, value)),
  ] as const;

describe('evidence into the claim', () => {
  it('takes a subset in when both sides have results: what melts, of pieces drawn at random', () => {
    const answers = told([...Array(9).fill('melts'), 'chars'], ['chars', 'chars', 'melts']);
    const weighed = weighEvidence(evidence([confirmedBy(confirmation(10, 3), answers, DRILL)], answers));
    expect(weighed.confirmation).toEqual({
      specimens: { positive: 9, tested: 10 },
      controls: { positive: 1, tested: 3 },
    });
    expect(weighed.identification).toMatchObject({ by: 'melts', tested: 10, passed: 9, atRandom: true });
    expect(weighed.drill).toEqual(DRILL);
    expect(weighed.notes).toEqual([]);
  });

  it('stays with the eye, and says so, while no piece of the controls has a result', () => {
    const answers = told(Array(10).fill('melts'), ['ambiguous', 'lost']);
    const weighed = weighEvidence(evidence([confirmedBy(confirmation(10, 3), answers, DRILL)], answers));
    expect(weighed.identification).toBeNull();
    expect(weighed.notes.map((note) => note.why)).toEqual(['controls-not-tested']);
  });

  it('no result is not a “no”: ambiguous, moved in the air, outside the range', () => {
    const answers = [
      answer('s0', 'melts'),
      answer('s1', 'ambiguous'),
      answer('s2', 'moved-by-air'),
      answer('s3', 'chars', { outside: 'Not tested: too small.' }),
      answer('s4', 'softens'),
      answer('s5', 'chars'),
    ];
    const [fibres] = confirmedBy(confirmation(6, 2), answers, null).strata;
    expect(fibres).toMatchObject({ tested: 2, passed: 1, without: 4 });
  });

  it('the last answer of a piece stands', () => {
    const answers = [answer('s0', 'moved-by-air'), answer('s0', 'melts')];
    expect(confirmedBy(confirmation(1, 1), answers, null).strata[0]).toMatchObject({
      tested: 1,
      passed: 1,
      without: 0,
    });
  });

  it('cannot state a share below what the drill passes of look-alikes alone', () => {
    // 2 of 10 passed, and the drill passes 4 of 20 look-alikes
    const answers = told(['melts', 'melts', ...Array(8).fill('chars')], ['chars', 'chars']);
    const confirmed = confirmedBy(confirmation(10, 2), answers, DRILL);
    expect(confirmed.specimens).toMatchObject({ belowFloor: true });
    expect(confirmed.specimens!.share.lower).toBeLessThan(0.02);
    const { notes } = weighEvidence(evidence([confirmed], answers));
    expect(notes[0]).toMatchObject({ why: 'share-cannot-be-stated' });
    expect(notes[0]!.message).toMatch(/cannot be stated, only that it is below \d+ %/);
  });

  it('weighs strata by their size: a small one tested much counts little', () => {
    const uneven: Confirmation = {
      ...confirmation(0, 2),
      strata: [
        { name: 'large', side: 'specimens', pieces: 90, drawn: ids('s', 2) },
        { name: 'small', side: 'specimens', pieces: 10, drawn: ids('t', 8) },
      ],
    };
    const answers = [
      ...ids('s', 2).map((id) => answer(id, 'chars')),
      ...ids('t', 8).map((id) => answer(id, 'melts')),
    ];
    const { specimens } = confirmedBy(uneven, answers, null);
    expect(specimens).toMatchObject({ tested: 10, passed: 8 });
    // Kish: 1 / (0.9²/2 + 0.1²/8) = 2.46
    expect(specimens!.worth).toBe(2);
    expect(specimens!.positive).toBe(0);
    expect(specimens!.share.value).toBeLessThan(0.45);
  });
});

describe('of several random parts', () => {
  const whole = told(Array(10).fill('melts'), Array(3).fill('chars'));
  const finished = confirmedBy(confirmation(10, 3), whole, DRILL);
  const begun = confirmedBy(confirmation(10, 3), told(['melts', 'melts'], []), DRILL);
  const half = confirmedBy(confirmation(10, 3), told(['melts', 'melts'], ['chars']), DRILL);

  it('the newest that is done counts, and one just begun does not push it aside', () => {
    expect(confirmationThatCounts([finished, begun])).toBe(finished);
    expect(confirmationThatCounts([finished, half])).toBe(finished);
    expect(confirmationThatCounts([half, finished])).toBe(finished);
    expect(confirmationThatCounts([half, begun])).toBe(half);
    expect(confirmationThatCounts([begun])).toBe(begun);
    expect(confirmationThatCounts([])).toBeUndefined();
  });
});

describe('several specimens', () => {
  const worn = { id: 'worn' as never, name: 'Worn board' };
  const fresh = { id: 'new' as never, name: 'New board' };
  // 20 drawn of 80: of the worn board all that melt, of the new one all that char
  const of = new Map(ids('s', 20).map((id, k) => [id, k < 14 ? worn.id : fresh.id]));
  const answers = told([...Array(14).fill('melts'), ...Array(6).fill('chars')], Array(6).fill('chars'));
  const confirmed = confirmedBy(confirmation(20, 6), answers, null, of as never);

  it('each have a share of their own where ten pieces or more were tested', () => {
    expect(confirmed.specimens).toMatchObject({ tested: 20, passed: 14, pieces: 80 });
    // 14 of the 20 drawn are the worn board’s: it stands for 56 of the 80
    expect(confirmed.ofSpecimen.get(worn.id)).toMatchObject({ tested: 14, passed: 14, pieces: 56 });
    expect(confirmed.ofSpecimen.has(fresh.id)).toBe(false);
    const weighed = weighEvidence(evidence([confirmed], answers), worn);
    expect(weighed.confirmation?.specimens).toEqual({ positive: 14, tested: 14 });
    expect(weighed.identification?.share?.lower).toBeGreaterThan(0.7);
    expect(weighed.notes.map(({ why }) => why)).toEqual(['drill-too-small']);
  });

  it('share the whole’s where fewer were tested, and that is said', () => {
    const weighed = weighEvidence(evidence([confirmed], answers), fresh);
    expect(weighed.confirmation?.specimens).toEqual({ positive: 14, tested: 20 });
    const pooled = weighed.notes.find(({ why }) => why === 'share-pooled');
    expect(pooled?.message).toMatch(/Fewer than 10 pieces of “New board”.*14 of 20 passed/);
  });

  it('are not spoken of where there is one', () => {
    const one = confirmedBy(confirmation(20, 6), answers, null);
    const weighed = weighEvidence(evidence([one], answers), fresh);
    expect(weighed.notes.map(({ why }) => why)).toEqual(['drill-too-small']);
  });

  it('hold their own true share within the 95 % interval, however they lie mixed in the strata', () => {
    const chance = chanceFrom(5);
    const truth = { worn: 0.85, new: 0.3 };
    const inside = { worn: 0, new: 0 };
    const studies = 80;
    for (let study = 0; study < studies; study++) {
      const own = new Map<string, { readonly of: 'worn' | 'new'; readonly real: boolean }>();
      const strata = [60, 40].map((pieces, h) => {
        const all = Array.from({ length: pieces }, (_, k) => {
          const of = chance.uniform() < (h === 0 ? 0.7 : 0.4) ? ('worn' as const) : ('new' as const);
          own.set(`${h}-${k}`, { of, real: chance.uniform() < truth[of] });
          return { id: `${h}-${k}`, turn: chance.uniform() };
        });
        all.sort((a, b) => a.turn - b.turn);
        const drawn = all.slice(0, pieces / 2).map(({ id }) => id as never);
        return { name: `${h}`, side: 'specimens' as const, pieces, drawn };
      });
      const results = strata.flatMap(({ drawn }) =>
        drawn.map((id) => answer(id, own.get(id)!.real ? 'melts' : 'chars')),
      );
      const mixed = confirmedBy(
        { ...confirmation(0, 0), seed: study + 1, strata },
        results,
        null,
        new Map([...own].map(([id, { of: which }]) => [id as never, which as never])),
      );
      for (const which of ['worn', 'new'] as const) {
        const pieces = [...own.values()].filter((one) => one.of === which);
        const share = pieces.filter((one) => one.real).length / pieces.length;
        const found = mixed.ofSpecimen.get(which as never)!.share;
        if (found.lower <= share && share <= found.upper) inside[which]++;
      }
    }
    // 95 % of 80 is 76, and 3 standard errors below it 70
    expect(inside.worn).toBeGreaterThanOrEqual(70);
    expect(inside.new).toBeGreaterThanOrEqual(70);
  }, 120_000);
});
