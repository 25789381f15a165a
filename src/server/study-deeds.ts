/** A study written down from outside: its question, specimens and portions. */
import { addPortion, addSpecimen, changeQuestion, createStudy, everOf } from '../actions/index.ts';
import type {
  PortionWish,
  QuestionWish,
  SpecimenJson,
  SpecimenWish,
  STUDY_ROUTES,
  StudyWish,
} from '../api/index.ts';
import type { AsGiven, Id, Question, StudyId } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { answered, type Deed, part, valid } from './answering.ts';
import type { Served } from './served.ts';

export const questionOf = (wish: QuestionWish): AsGiven<Question> => ({
  product: wish.product,
  act: wish.act,
  durationMin: wish.duration_min,
  liquid: wish.liquid,
  sizeFromUm: wish.size_from_um,
  sizeToUm: wish.size_to_um,
  unit: wish.unit,
  countsAs: wish.counts_as_microplastic,
  shapes: wish.shapes,
  colours: wish.colours,
  decision: { confidence: wish.confidence, matters: wish.matters },
});

const questionJson = (question: Question): QuestionWish => ({
  product: question.product,
  act: question.act,
  duration_min: question.durationMin,
  liquid: question.liquid,
  size_from_um: question.sizeFromUm,
  size_to_um: question.sizeToUm,
  unit: question.unit,
  counts_as_microplastic: question.countsAs,
  shapes: [...question.shapes],
  colours: [...question.colours],
  confidence: question.decision.confidence,
  matters: question.decision.matters,
});

const nameAndId = ({ id, name }: { id: string; name: string }) => ({ id, name });

async function questionView(served: Served, id: string): Promise<Outcome<QuestionWish>> {
  const study = await served.records.look((look) => look.studies.get(id as Id<'study'>));
  return study
    ? done(questionJson(study.question))
    : refused({
        why: 'no-such-study',
        message: `There is no study ${id} in this laboratory; read the list anew.`,
      });
}

function specimensView(served: Served, study: StudyId): Promise<readonly SpecimenJson[]> {
  return served.records.look(async (look) => {
    const portions = await look.portions.ofStudy(study);
    // One that a withdrawn run used is used, too.
    const runs = await everOf(look.runs, study);
    const specimens = await look.specimens.ofStudy(study);
    return specimens.map(({ id, name, role, maker, lot, age, material, massG, note }) => ({
      id,
      name,
      role,
      maker,
      lot,
      age,
      material,
      mass_g: massG,
      note,
      portions: portions
        .filter((portion) => portion.specimen === id)
        .map((portion) => ({
          id: portion.id,
          specimen: id,
          name: portion.name,
          mass_g: portion.massG,
          mass_is: portion.massIs,
          pieces: portion.pieces,
          note: portion.note,
          used_by: runs.find((run) => run.portion === portion.id)?.id ?? null,
        })),
    }));
  });
}

export const studyDeeds = (served: Served): Readonly<Record<keyof typeof STUDY_ROUTES, Deed>> => ({
  createStudy: async (c) => {
    const { name, question } = valid<StudyWish>(c, 'json');
    const by = served.person;
    return answered(c, await createStudy(served, { name, question: questionOf(question), by }), nameAndId);
  },
  question: async (c) => answered(c, await questionView(served, part(c, 'study'))),
  changeQuestion: async (c) => {
    const question = questionOf(valid<QuestionWish>(c, 'json'));
    const by = served.person;
    return answered(c, await changeQuestion(served, { study: part(c, 'study'), question, by }), nameAndId);
  },
  specimens: async (c) => c.json({ specimens: await specimensView(served, part(c, 'study') as StudyId) }),
  addSpecimen: async (c) => {
    const { mass_g, ...wish } = valid<SpecimenWish>(c, 'json');
    return answered(
      c,
      await addSpecimen(served, { ...wish, massG: mass_g, study: part(c, 'study') }),
      nameAndId,
    );
  },
  addPortion: async (c) => {
    const { mass_g, mass_is, ...wish } = valid<PortionWish>(c, 'json');
    const given = { ...wish, massG: mass_g, massIs: mass_is, specimen: part(c, 'specimen') };
    return answered(c, await addPortion(served, given), nameAndId);
  },
});
