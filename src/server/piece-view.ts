/** One piece and its tests, as they travel. */
import { confirmationThatCounts, countedSizes, evidenceOf, stillThere } from '../actions/index.ts';
import type { PieceDetail } from '../api/index.ts';
import type { Id } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { answerJson } from './evidence-json.ts';
import { chanceAfter, missing, namesOf, priorOf } from './evidence-views.ts';
import { countingFor, markedParticle, photoAtHome } from './photo-views.ts';
import type { Served } from './served.ts';

export const pieceView = ({ records }: Served, id: string): Promise<Outcome<PieceDetail>> =>
  records.look(async (look) => {
    const particle = await look.particles.get(id as Id<'particle'>);
    if (!particle) return missing('particle', id);
    const home = await photoAtHome(look, particle.photo);
    if (!home.ok) return home;
    const { study, filter } = home.value;
    const run = await look.runs.get(filter.run);
    const evidence = await evidenceOf(look, study);
    const people = await namesOf(look);
    const { prior, from } = priorOf(confirmationThatCounts(evidence.confirmed));
    const answers = evidence.answers.filter((answer) => answer.particle === particle.id);
    const there = await stillThere(look, study.id, particle);
    const shown = await countingFor(look, [particle]);
    return done({
      run: run?.name ?? '',
      filter: { id: filter.id, name: filter.name, material: filter.material },
      photo: particle.photo,
      particle: markedParticle(particle, await countedSizes(look, study), shown, new Map()),
      answers: answers.map((answer) =>
        answerJson(answer, { people, number: particle.number, undone: false }),
      ),
      chance: chanceAfter(evidence, prior, answers),
      prior,
      prior_from: from,
      used_up: there.ok ? null : there.refusal.message,
      drawn: (await look.confirmations.ofStudy(study.id))
        .filter(({ strata }) => strata.some(({ drawn }) => drawn.includes(particle.id)))
        .map(({ id: subset, name, test }) => ({ id: subset, name, test })),
    });
  });
