import { type AsGiven, makePortion, makeSpecimen, type Portion, type Specimen } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import { asId, everOf, known, nameFree } from './known.ts';
import type { Tools } from './ports.ts';

export const addSpecimen = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  given: AsGiven<Omit<Specimen, 'id' | 'madeAt'>>,
): Promise<Outcome<Specimen>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(given.study)), 'study', given.study);
    if (!study.ok) return study;
    const free = nameFree(given.name, await desk.specimens.ofStudy(study.value.id), 'specimen');
    if (!free.ok) return free;
    const made = makeSpecimen({ ...given, id: names.next(), madeAt: clock.now() });
    if (made.ok) await desk.specimens.add(made.value);
    return made;
  });

export const addPortion = (
  { records, names }: Pick<Tools, 'records' | 'names'>,
  given: AsGiven<Omit<Portion, 'id'>>,
): Promise<Outcome<Portion>> =>
  records.change(async (desk) => {
    const specimen = await known(desk.specimens.get(asId(given.specimen)), 'specimen', given.specimen);
    if (!specimen.ok) return specimen;
    const beside = (await everOf(desk.portions, specimen.value.study)).filter(
      (portion) => portion.specimen === specimen.value.id,
    );
    const free = nameFree(given.name, beside, 'portion');
    if (!free.ok) return free;
    const made = makePortion({ ...given, id: names.next() });
    if (made.ok) await desk.portions.add(made.value);
    return made;
  });
