import type { Edition, Step } from '../records/procedure.ts';
import { cautionsOfAll } from './cautions.ts';
import { SUBSTANCE_WORDS } from './substances.ts';

/**
 * The steps that safety is judged by: the newest edition of every procedure, controls and spiked runs included, and what runs
 * that are not over yet really do. An edition that was replaced stops nothing any more; a deviation of this morning does.
 */
export function stepsInForce(
  editions: readonly Edition[],
  open: readonly (readonly Step[])[],
): readonly Step[] {
  const newest = new Map<string, Edition>();
  for (const edition of editions) {
    const there = newest.get(edition.procedure);
    if (!there || there.number < edition.number) newest.set(edition.procedure, edition);
  }
  const once = new Map(
    [...[...newest.values()].flatMap(({ steps }) => steps), ...open.flat()].map((step) => [
      JSON.stringify([step.key, step.kind, step.quantities.temperature_c ?? null, step.touches, step.note]),
      step,
    ]),
  );
  return [...once.values()];
}

/** One line for a label: what can hurt in the steps that a vessel is used for; null where nothing asks for the safety fields. */
export function hazardLine(steps: readonly Step[]): string | null {
  const names = cautionsOfAll(steps)
    .filter(({ grave }) => grave)
    .map(({ about }) =>
      about in SUBSTANCE_WORDS
        ? SUBSTANCE_WORDS[about as keyof typeof SUBSTANCE_WORDS]
        : 'a liquid on no list',
    );
  return names.length === 0 ? null : `Mind: ${names.join(', ')}. Safety data sheets first.`;
}
