import type { ParticleId, Study } from '../study/index.ts';
import type { Look } from './ports.ts';

/** Pieces that an answer, a drawn subset, a round or a set of known pieces names. */
export async function namedPieces(look: Look, { id }: Study): Promise<ReadonlySet<ParticleId>> {
  const named = new Set<ParticleId>();
  for (const answer of await look.benchAnswers.ofStudy(id)) named.add(answer.particle);
  for (const { strata } of await look.confirmations.ofStudy(id))
    for (const { drawn } of strata) for (const particle of drawn) named.add(particle);
  for (const { key } of await look.rounds.ofStudy(id))
    for (const { particle } of key) if (particle) named.add(particle);
  for (const { pieces } of await look.knownSets.ofStudy(id))
    for (const { particle } of pieces) if (particle) named.add(particle);
  for (const { particle } of await look.spectrumFiles.ofStudy(id)) if (particle) named.add(particle);
  return named;
}
