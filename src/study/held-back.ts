/** What holds a claim back, most weighty first, one line a reason however many runs share it. */
import type { InputNote } from './counting-input.ts';

export interface HeldBack extends InputNote {
  /** How many runs share the reason. */
  readonly runs: number;
}

const WEIGHT: Readonly<Record<InputNote['why'], number>> = {
  'no-matching-control': 0,
  'not-looked': 1,
  'control-does-not-match': 2,
  'controls-out-of-balance': 2.5,
  'withdrawn-after-count': 2.8,
  'control-scaled': 7.5,
  'control-not-recorded': 7.2,
  'not-marked': 3,
  'sizes-cut': 4,
  'sizes-seldom-found': 4.5,
  'photographs-overlap': 5,
  'volumes-do-not-agree': 2.2,
  'part-not-passed': 6,
  'no-recovery': 7,
  'spike-does-not-match': 6.5,
  'size-never-recovered': 7.1,
  'spike-in-doubt': 8.5,
  'liquid-not-recorded': 8,
  'controls-not-tested': 9,
  'share-cannot-be-stated': 9.5,
  'share-pooled': 9.7,
  'pieces-undecided': 10,
  'drill-too-small': 11,
};

const TOGETHER: Partial<Record<InputNote['why'], (runs: number) => string>> = {
  'not-looked': (n) => `Nothing of ${n} runs was looked at: bring in photographs of their filters.`,
  'not-marked': (n) =>
    `Particles of ${n} runs were found by the program and looked at by nobody yet: keep or drop them.`,
  'photographs-overlap': (n) => `The photographs of ${n} runs overlap: pieces may be counted twice.`,
  'part-not-passed': (n) =>
    `Of ${n} runs only a part is on filters that were looked at; the rest was not measured.`,
  'volumes-do-not-agree': (n) =>
    `The volumes of ${n} runs do not agree with what their steps say; each run tells its own.`,
  'liquid-not-recorded': (n) =>
    `How much of ${n} runs passed the filter is not recorded; all of it is taken to have passed.`,
};

export function heldBack(notes: readonly InputNote[]): readonly HeldBack[] {
  const groups = new Map<InputNote['why'], InputNote[]>();
  for (const note of notes) {
    const group = groups.get(note.why) ?? [];
    if (!group.some((there) => there.run === note.run && there.message === note.message)) group.push(note);
    groups.set(note.why, group);
  }
  return [...groups.values()]
    .flatMap((group): HeldBack[] => {
      const together = TOGETHER[group[0]!.why];
      if (group.length > 1 && together) {
        return [{ ...group[0]!, message: together(group.length), runs: group.length }];
      }
      return group.map((note) => ({ ...note, runs: 1 }));
    })
    .sort((a, b) => WEIGHT[a.why] - WEIGHT[b.why]);
}
