/** Learning from a study's own controls how photographs are best searched, over HTTP. */
import { controlsToLearnFrom, learnFromControls } from '../actions/index.ts';
import {
  type FALSE_FINDS_ROUTES,
  type FalseFindsAnswer,
  falseFindsJson,
  type LearningWish,
} from '../api/index.ts';
import { outdated, type StudyId, USUAL_SEARCH } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { beginWork, stopWork, type WorkDesk, workState } from './one-at-a-time.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';
import { runKind } from './study-views.ts';

const WORDS = {
  what: 'learning from the controls',
  busy: 'Controls are being searched already; wait until that is done, or stop it.',
  failed: 'Searching the controls failed on this machine; nothing was kept. Try it again.',
};

export const falseFindAnswers = (
  served: Served,
  desk: WorkDesk,
): Readonly<Record<keyof typeof FALSE_FINDS_ROUTES, Answering>> => ({
  falseFinds: async (c) => answered(c, await view(served, desk, part(c, 'study'))),
  learnFromControls: async (c) => {
    const study = part(c, 'study');
    const { filters, wanted, dropped_are: droppedAre } = valid<LearningWish>(c, 'json');
    const refusal = beginWork(served, desk, study, WORDS, (telling) =>
      learnFromControls(served, { ...telling, study, filters, wanted, droppedAre, by: served.person }),
    );
    return answered(c, refusal ?? (await view(served, desk, study)));
  },
  stopLearning: async (c) => {
    const study = part(c, 'study');
    stopWork(desk, study);
    return answered(c, await view(served, desk, study));
  },
});

const view = ({ records, work }: Served, desk: WorkDesk, id: string): Promise<Outcome<FalseFindsAnswer>> =>
  records.look(async (look) => {
    const study = await look.studies.get(id as StudyId);
    if (!study) return noSuch('study', id);
    const controls = await controlsToLearnFrom(look, study);
    const newest = await look.falseFinds.newest(study.id);
    const by = newest && (await look.people.get(newest.by));
    const { smallestUm } = (await look.searchSettings.newest(study.id)) ?? USUAL_SEARCH;
    const { method, version } = work;
    return done({
      ...workState(desk, id),
      controls: controls.map(({ filter, run, photos, barest }) => ({
        filter: filter.id,
        name: filter.name,
        run: run.name,
        kind: runKind(run.kind),
        photographs: photos.length,
        barest,
      })),
      measured: newest && {
        ...falseFindsJson(newest.result),
        at: newest.at,
        dropped_are: newest.result.droppedAre,
        by: by?.name ?? '',
        outdated: outdated(newest, { method, version, smallestUm }),
      },
    });
  });
