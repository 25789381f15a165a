import { type AsGiven, makeOwnStepKind, type OwnStepKind, type StepKind } from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';

/** A kind of step of the laboratory's own. Steps carry their declaration with them, so a later one never changes an old step. */
export const declareStepKind = (
  { records, clock }: Pick<Tools, 'records' | 'clock'>,
  wish: { readonly kind: AsGiven<StepKind>; readonly by: string },
): Promise<Outcome<OwnStepKind>> =>
  records.change(async (desk) => {
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const made = makeOwnStepKind({ ...wish.kind, at: clock.now(), by: wish.by });
    if (!made.ok) return made;
    if ((await desk.stepKinds.list()).some((there) => there.kind === made.value.kind)) {
      return refused({
        why: 'name-taken',
        message: `This laboratory has declared “${made.value.kind}” already; choose another name.`,
      });
    }
    await desk.stepKinds.add(made.value);
    return made;
  });
