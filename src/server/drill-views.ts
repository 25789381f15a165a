/** Drills on record, sitting by sitting, as they travel. */
import type { SittingJson } from '../api/index.ts';
import { type DrillAnswer, type EvidenceUndo, inForce, isSynthetic, type KnownSet } from '../study/index.ts';

/**
 * Answers of one person on one set further apart than this are two sittings: people rest, and a needle takes its time.
 * (Our choice: an hour.) A piece that was called already begins another sitting, unless that answer was taken back.
 */
const PAUSE_MS = 3_600_000;

/** The sittings of a study, newest first; `answers` and `undos` oldest first. */
export function sittingsOf(
  sets: readonly KnownSet[],
  answers: readonly DrillAnswer[],
  undos: readonly EvidenceUndo[],
  people: ReadonlyMap<string, string>,
): SittingJson[] {
  const standing = new Set(inForce(answers, undos).map(({ id }) => id));
  const undoOf = new Map(undos.map((undo) => [undo.undoes as string, undo.id as string]));
  const lastOn = (id: string): string => {
    const undo = undoOf.get(id);
    return undo === undefined ? id : lastOn(undo);
  };
  const bySet = new Map(sets.map((set) => [set.id as string, set]));
  const sittings: { last: DrillAnswer; readonly called: Set<string>; readonly json: SittingJson }[] = [];
  for (const answer of answers) {
    const set = bySet.get(answer.set);
    const piece = set?.pieces.find(({ key }) => key === answer.piece);
    if (!set || !piece) continue;
    const last = sittings.findLast((one) => sameSitting(one.last, answer));
    const before = last?.called.has(answer.piece) ? undefined : last;
    const sitting = before ?? { last: answer, called: new Set(), json: begun(answer, set, people) };
    if (!before) sittings.push(sitting);
    sitting.last = answer;
    if (standing.has(answer.id)) sitting.called.add(answer.piece);
    sitting.json.answers.push({
      id: answer.id,
      piece: answer.piece,
      material: piece.material,
      plastic: isSynthetic(piece.class),
      called: answer.called,
      undone: !standing.has(answer.id),
      last: lastOn(answer.id),
    });
  }
  return sittings.map(({ json }) => json).reverse();
}

const sameSitting = (before: DrillAnswer, now: DrillAnswer): boolean =>
  before.set === now.set &&
  before.test === now.test &&
  before.by === now.by &&
  before.announced === now.announced &&
  Date.parse(now.at) - Date.parse(before.at) <= PAUSE_MS;

const begun = (answer: DrillAnswer, set: KnownSet, people: ReadonlyMap<string, string>): SittingJson => ({
  test: answer.test,
  set: set.name,
  announced: answer.announced,
  answers: [],
  by: people.get(answer.by) ?? '',
  at: answer.at,
});
