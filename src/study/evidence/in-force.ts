import type { EvidenceUndo } from '../records/bench-answer.ts';

/** The records that no undo in force takes back. An undo can itself be undone; both lists oldest first. */
export function inForce<T extends { readonly id: string }>(
  records: readonly T[],
  undos: readonly EvidenceUndo[],
): readonly T[] {
  const undone = new Set<string>();
  for (const undo of [...undos].reverse()) if (!undone.has(undo.id)) undone.add(undo.undoes);
  return records.filter((record) => !undone.has(record.id));
}
