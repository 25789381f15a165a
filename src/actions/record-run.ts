import { type AsGiven, makeRun, type Run } from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { asId, known, nameFree } from './known.ts';
import type { Tools } from './ports.ts';

export type RunWish = AsGiven<Omit<Run, 'id' | 'madeAt' | 'order'>> & { readonly order?: number };

/** Records a run: an edition carried out on a portion, or as a control. */
export const recordRun = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: RunWish,
): Promise<Outcome<Run>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const edition = await known(desk.editions.get(asId(wish.edition)), 'edition', wish.edition);
    if (!edition.ok) return edition;
    const procedure = await desk.procedures.get(edition.value.procedure);
    if (procedure?.study !== study.value.id) {
      return refused({
        why: 'other-study',
        message: `run “${wish.name}”: its procedure belongs to another study; choose one of this study.`,
      });
    }
    const runs = await desk.runs.ofStudy(study.value.id);
    const free = nameFree(wish.name, runs, 'run');
    if (!free.ok) return free;
    if (wish.portion !== null) {
      const portions = await desk.portions.ofStudy(study.value.id);
      if (!portions.some((portion) => portion.id === wish.portion)) {
        return refused({
          why: 'no-such-portion',
          message: `run “${wish.name}”: there is no such portion in this study; weigh one and enter it first.`,
        });
      }
      const taken = runs.find((run) => run.portion === wish.portion);
      if (taken && wish.kind === 'specimen') {
        return refused({
          why: 'portion-used',
          message: `run “${wish.name}”: its portion was used by run “${taken.name}”; a portion serves one run.`,
        });
      }
    }
    const made = makeRun({
      ...wish,
      id: names.next(),
      order: wish.order ?? runs.length + 1,
      madeAt: clock.now(),
    });
    if (made.ok) await desk.runs.add(made.value);
    return made;
  });
