/** Drawing known pieces into a study's controls: begun, followed, stopped, and what it told. */
import { countStudy, measureCompleteness } from '../actions/index.ts';
import { type COMPLETENESS_ROUTES, type CompletenessAnswer, completenessJson } from '../api/index.ts';
import { shareFound } from '../science/imaging/index.ts';
import type { MeasuredCompleteness, StudyId } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { type Answering, answered, part } from './answers.ts';
import { beginWork, stopWork, type WorkDesk, workState } from './one-at-a-time.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';

const WORDS = {
  what: 'completeness',
  busy: 'Known pieces are being drawn into controls already; wait until that is done, or stop it.',
  failed: 'Drawing into the controls failed on this machine; nothing was kept. Try it again.',
};

export const completenessAnswers = (
  served: Served,
  desk: WorkDesk,
): Readonly<Record<keyof typeof COMPLETENESS_ROUTES, Answering>> => ({
  completeness: async (c) => answered(c, await view(served, desk, part(c, 'study'))),
  measureCompleteness: async (c) => {
    const study = part(c, 'study');
    const refusal = beginWork(served, desk, study, WORDS, (telling) =>
      measureCompleteness(served, { ...telling, study, by: served.person }),
    );
    return answered(c, refusal ?? (await view(served, desk, study)));
  },
  stopCompleteness: async (c) => {
    const study = part(c, 'study');
    stopWork(desk, study);
    return answered(c, await view(served, desk, study));
  },
});

const view = ({ records }: Served, desk: WorkDesk, id: string): Promise<Outcome<CompletenessAnswer>> =>
  records.look(async (look) => {
    const study = await look.studies.get(id as StudyId);
    if (!study) return noSuch('study', id);
    const newest = await look.completeness.newest(study.id);
    const by = newest && (await look.people.get(newest.by));
    return done({
      ...workState(desk, id),
      counted_from_um: (await countStudy(look, study)).sizeFromUm,
      measured: newest && {
        ...completenessJson(newest.result),
        at: newest.at,
        by: by?.name ?? '',
        by_contrast: byContrast(newest),
      },
    });
  });

/** All shapes together, in the shares in which they were drawn. */
function byContrast({ result }: MeasuredCompleteness) {
  const groups = new Map<string, { contrast: string; size_um: number; found: number; drawn: number }>();
  for (const { contrast, sizeUm, found, drawn } of result.cells) {
    const key = `${contrast} ${sizeUm}`;
    const group = groups.get(key) ?? { contrast, size_um: sizeUm, found: 0, drawn: 0 };
    groups.set(key, { ...group, found: group.found + found, drawn: group.drawn + drawn });
  }
  return [...groups.values()]
    .sort((a, b) => a.size_um - b.size_um)
    .map((group) => {
      const { share, lower, upper } = shareFound(group.found, group.drawn, result.confidence);
      return { ...group, share, lower, upper };
    });
}
