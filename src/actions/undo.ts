import { type Mark, type StudyId, toRedo, toUndo } from '../study/index.ts';
import { type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import { type Marked, undoMark } from './mark-particles.ts';
import type { Desk, Tools } from './ports.ts';

/** How far back an undo looks; nobody undoes by hand further than this. */
const BACK = 500;

const takeBack =
  (choose: (newestFirst: readonly Mark[]) => Mark | null, nothing: string) =>
  (
    tools: Pick<Tools, 'records' | 'clock' | 'names'>,
    wish: { readonly study: string; readonly by: string },
  ): Promise<Outcome<Marked>> =>
    tools.records.change(async (desk: Desk) => {
      const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
      if (!person.ok) return person;
      const study: StudyId = asId(wish.study);
      const mark = choose(await desk.marks.newest(study, BACK, null));
      if (!mark) return refused({ why: 'nothing-to-undo', message: nothing });
      return undoMark(desk, tools, { mark, by: wish.by });
    });

/** Takes back the newest mark of the study that stands. */
export const undo = takeBack(toUndo, 'There is no mark to undo in this study.');

/** Puts back the mark that was undone last, unless a new one was made since. */
export const redo = takeBack(toRedo, 'There is no undone mark to put back in this study.');
