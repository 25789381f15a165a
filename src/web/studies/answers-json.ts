import type { PlanAnswersJson } from '../../api/index.ts';
import type { PlanAnswers } from '../../study/index.ts';

/** The answers as they travel. */
export const answersJson = (answers: PlanAnswers): PlanAnswersJson => {
  const { changed } = answers;
  return {
    product: answers.product,
    polymers: [...answers.polymers],
    act: answers.act,
    act_words: answers.actWords,
    minutes: answers.minutes,
    matrix: answers.matrix,
    liquid_words: answers.liquidWords,
    volume_ml: answers.volumeMl,
    matrix_g: answers.matrixG,
    hottest_c: answers.hottestC,
    seeing: answers.seeing,
    needle: answers.needle,
    setting: answers.setting,
    equipment: [...answers.equipment],
    pieces: answers.pieces,
    mass_g: answers.massG,
    unit: answers.unit,
    hours: answers.hours,
    sessions: answers.sessions,
    person: answers.person,
    place: answers.place,
    safety: Object.fromEntries(
      Object.entries(answers.safety).map(([field, text]) => [field, text ?? '']),
    ) as PlanAnswersJson['safety'],
    changed: {
      size_from_um: changed.sizeFromUm,
      specimens: changed.specimens,
      controls: changed.controls,
      blanks: changed.blanks,
      spikes: changed.spikes,
      reagent: changed.reagent,
      pore_um: changed.poreUm,
      filter: changed.filter,
      background: changed.background,
      release_per_gram: changed.releasePerGram,
    },
  };
};
