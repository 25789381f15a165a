import { type AsGiven, type ComparisonRules, makeComparisonRules } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';

/** How a study compares runs with controls from now on; every comparison is made anew, and earlier rules stay on record. */
export const setComparisonRules = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: AsGiven<Omit<ComparisonRules, 'id' | 'at'>>,
): Promise<Outcome<ComparisonRules>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const made = makeComparisonRules({ ...wish, id: names.next(), at: clock.now() });
    if (made.ok) await desk.comparisonRules.add(made.value);
    return made;
  });
