/** Drawing known pieces into a study's controls: begun, followed, stopped, and what it told. One at a time on a server. */
import { countStudy, measureCompleteness } from '../actions/index.ts';
import { type COMPLETENESS_ROUTES, type CompletenessAnswer, completenessJson } from '../api/index.ts';
import { shareFound } from '../science/imaging/index.ts';
import type { MeasuredCompleteness, StudyId } from '../study/index.ts';
import { done, type Outcome, type Refusal, refused } from '../units/index.ts';
import { type Answering, answered, part } from './answers.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';

interface UnderWay {
  readonly study: string;
  stop(): void;
  done: number;
  of: number;
}

/** What is under way on this server, and why the last one of a study ended without a result. */
export interface CompletenessDesk {
  underWay: UnderWay | null;
  readonly trouble: Map<string, Refusal>;
}

export const completenessDesk = (): CompletenessDesk => ({ underWay: null, trouble: new Map() });

export const completenessAnswers = (
  served: Served,
  desk: CompletenessDesk,
): Readonly<Record<keyof typeof COMPLETENESS_ROUTES, Answering>> => ({
  completeness: async (c) => answered(c, await view(served, desk, part(c, 'study'))),
  measureCompleteness: async (c) => answered(c, await begin(served, desk, part(c, 'study'))),
  stopCompleteness: async (c) => {
    const study = part(c, 'study');
    if (desk.underWay?.study === study) desk.underWay.stop();
    return answered(c, await view(served, desk, study));
  },
});

async function begin(
  served: Served,
  desk: CompletenessDesk,
  study: string,
): Promise<Outcome<CompletenessAnswer>> {
  if (desk.underWay) {
    return refused({
      why: 'under-way',
      message: 'Known pieces are being drawn into controls already; wait until that is done, or stop it.',
    });
  }
  let stop = (): void => {};
  const stopped = new Promise<void>((resolve) => {
    stop = resolve;
  });
  const underWay: UnderWay = { study, stop, done: 0, of: 0 };
  desk.underWay = underWay;
  desk.trouble.delete(study);
  void measureCompleteness(served, {
    study,
    by: served.person,
    told: (amount, of) => Object.assign(underWay, { done: amount, of }),
    stopped,
  })
    .then((ended) => {
      if (!ended.ok) desk.trouble.set(study, ended.refusal);
    })
    .catch((failure: unknown) => {
      served.log(`completeness of ${study}: ${failure instanceof Error ? failure.message : String(failure)}`);
      desk.trouble.set(study, {
        why: 'failed',
        message: 'Drawing into the controls failed on this machine; nothing was kept. Try it again.',
      });
    })
    .finally(() => {
      desk.underWay = null;
    });
  return view(served, desk, study);
}

const view = (
  { records }: Served,
  { underWay, trouble }: CompletenessDesk,
  id: string,
): Promise<Outcome<CompletenessAnswer>> =>
  records.look(async (look) => {
    const study = await look.studies.get(id as StudyId);
    if (!study) return noSuch('study', id);
    const newest = await look.completeness.newest(study.id);
    const by = newest && (await look.people.get(newest.by));
    const mine = underWay?.study === id ? underWay : null;
    const refusal = trouble.get(id) ?? null;
    return done({
      under_way: mine && { done: mine.done, of: mine.of },
      busy_elsewhere: underWay !== null && mine === null,
      refusal: refusal && { why: refusal.why, message: refusal.message },
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
