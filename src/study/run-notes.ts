import type { InputNote, RunForInput } from './counting-input.ts';

/** What share of its liquid the filters stand for cannot be known of such a run: it counts for nothing until it is mended. */
export const volumesCannotBe = (run: RunForInput): boolean => run.balance?.cannotBe ?? false;

/** What the volumes of a run say against each other, and what follows from it. */
export const volumesSentence = (run: RunForInput): string =>
  `Run ${run.run.name}: ${run.balance?.sentence ?? ''}${
    volumesCannotBe(run)
      ? ' Until that is mended the share that passed the filter cannot be known, and the run is left out of the amount.'
      : ''
  }`;

/** What must be known of one run before its count is read: nothing looked at, a part not passed, pieces nobody marked. */
export function notesOf(run: RunForInput): InputNote[] {
  const { name, id } = run.run;
  const note = (why: InputNote['why'], place: InputNote['place'], message: string): InputNote => ({
    why,
    message,
    place,
    run: id,
  });
  if (run.count === null) {
    return [
      note(
        'not-looked',
        'filters',
        `Nothing of run ${name} was looked at: bring in photographs of its filter.`,
      ),
    ];
  }
  const notes: InputNote[] = [];
  if (run.balance && run.balance.missingMl !== null && run.balance.parts.length > 0 && !run.balance.agrees) {
    notes.push(note('volumes-do-not-agree', 'runs', volumesSentence(run)));
  }
  if (run.passed === null) {
    notes.push(
      note(
        'liquid-not-recorded',
        'runs',
        `How much of run ${name} passed the filter is not recorded; all of it is taken to have passed.`,
      ),
    );
  } else if (run.passed < 0.95 && !volumesCannotBe(run)) {
    const share = Math.round(100 * run.passed);
    notes.push(
      note(
        'part-not-passed',
        'runs',
        `Only ${share} % of run ${name} is on filters that were looked at; the rest was not measured.`,
      ),
    );
  }
  if (run.unmarked > 0) {
    notes.push(
      note(
        'not-marked',
        'filters',
        `${run.unmarked} particles of run ${name} were found by the program and looked at by nobody yet.`,
      ),
    );
  }
  if (run.overlap) {
    notes.push(
      note(
        'photographs-overlap',
        'filters',
        `The photographs of run ${name} overlap: pieces may be counted twice.`,
      ),
    );
  }
  return notes;
}
