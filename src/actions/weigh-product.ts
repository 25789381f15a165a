import { type AsGiven, makeWeighing, type RunId, type StudyId, type Weighing } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Look, Tools } from './ports.ts';

/** The product of a specimen run, weighed before and after; a further one of the same run takes its place. */
export const weighProduct = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  given: AsGiven<Omit<Weighing, 'id' | 'at'>>,
): Promise<Outcome<Weighing>> =>
  records.change(async (desk) => {
    const run = await known(desk.runs.get(asId(given.run)), 'run', given.run);
    if (!run.ok) return run;
    if (run.value.kind !== 'specimen') {
      return refused({
        why: 'no-product',
        message: `weighing: run “${run.value.name}” is a control, on no product; weigh what a specimen run used.`,
      });
    }
    const made = makeWeighing({ ...given, id: names.next(), at: clock.now() });
    if (!made.ok) return made;
    await desk.weighings.add(made.value);
    return done(made.value);
  });

/** The weighing of each run that stands. */
export async function weighingsOf(look: Look, study: StudyId): Promise<ReadonlyMap<RunId, Weighing>> {
  const newest = new Map((await look.weighings.ofStudy(study)).map((one) => [one.run, one]));
  return new Map([...newest].filter(([, { stands }]) => stands));
}
