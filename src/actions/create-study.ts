import { type AsGiven, makeStudy, type Question, type Study } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { asId, known, nameFree } from './known.ts';
import type { Tools } from './ports.ts';

export interface StudyWish {
  readonly name: string;
  readonly question: AsGiven<Question>;
  readonly by: string;
  readonly invented?: boolean;
}

/** Opens a study on one question. In an invented laboratory every study is invented. */
export const createStudy = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: StudyWish,
): Promise<Outcome<Study>> =>
  records.change(async (desk) => {
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const free = nameFree(wish.name, await desk.studies.list(), 'study');
    if (!free.ok) return free;
    const made = makeStudy({
      id: names.next(),
      name: wish.name,
      invented: (wish.invented ?? false) || (await desk.laboratory.get()).invented,
      question: wish.question,
      madeAt: clock.now(),
      by: wish.by,
    });
    if (made.ok) await desk.studies.add(made.value);
    return made;
  });

/** Changes the question; what it was before stays in the journal. */
export const changeQuestion = (
  { records, clock }: Pick<Tools, 'records' | 'clock'>,
  wish: { readonly study: string; readonly question: AsGiven<Question>; readonly by: string },
): Promise<Outcome<Study>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const made = makeStudy({ ...study.value, question: wish.question });
    if (!made.ok) return made;
    await desk.studies.changeQuestion(made.value);
    await desk.journal.add({
      at: clock.now(),
      by: person.value.id,
      deed: 'change-question',
      subject: study.value.id,
      facts: { before: JSON.parse(JSON.stringify(study.value.question)) },
    });
    return done(made.value);
  });
