import { type AsGiven, makePortion, makeRun, type Portion, type Run } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, everOf, known, nameFree } from './known.ts';
import type { Desk, Tools } from './ports.ts';

export type RunWish = AsGiven<Omit<Run, 'id' | 'madeAt' | 'order'>> & {
  readonly order?: number | undefined;
  /** A portion weighed just now, entered together with its run; then `portion` is null. */
  readonly weighed?: AsGiven<Pick<Portion, 'specimen' | 'massG' | 'massIs' | 'pieces'>> | null | undefined;
};

type Needs = Pick<Tools, 'records' | 'clock' | 'names'>;

/** Records a run: an edition carried out on a portion, or as a control. */
export const recordRun = ({ records, clock, names }: Needs, wish: RunWish): Promise<Outcome<Run>> =>
  records.change((desk) => runOnDesk(desk, { clock, names }, wish));

/** Several at once, all or none: a batch of portions or controls of one session. */
export const recordRuns = (
  { records, clock, names }: Needs,
  wishes: readonly RunWish[],
): Promise<Outcome<readonly Run[]>> =>
  records.change(async (desk) => {
    const made: Run[] = [];
    for (const wish of wishes) {
      const run = await runOnDesk(desk, { clock, names }, wish);
      if (!run.ok) return run;
      made.push(run.value);
    }
    return done(made);
  });

async function runOnDesk(
  desk: Desk,
  { clock, names }: Pick<Tools, 'clock' | 'names'>,
  { weighed = null, ...wish }: RunWish,
): Promise<Outcome<Run>> {
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
  if ((await desk.procedures.withdrawnOfStudy(study.value.id)).some(({ id }) => id === procedure.id)) {
    return refused({
      why: 'withdrawn',
      message: `run “${wish.name}”: its procedure “${procedure.name}” is withdrawn; put it back or choose another.`,
    });
  }
  const runs = await desk.runs.ofStudy(study.value.id);
  const ever = [...runs, ...(await desk.runs.withdrawnOfStudy(study.value.id))];
  const free = nameFree(wish.name, ever, 'run');
  if (!free.ok) return free;
  let portion = wish.portion;
  if (portion === null && weighed) {
    const entered = await enterPortion(desk, names, study.value.id, wish.name, weighed);
    if (!entered.ok) return entered;
    portion = entered.value.id;
  } else if (portion !== null) {
    const portions = await desk.portions.ofStudy(study.value.id);
    if (!portions.some((one) => one.id === portion)) {
      return refused({
        why: 'no-such-portion',
        message: `run “${wish.name}”: there is no such portion in use in this study; weigh one and enter it first.`,
      });
    }
    const taken = runs.find((run) => run.portion === portion);
    if (taken && wish.kind === 'specimen') {
      return refused({
        why: 'portion-used',
        message: `run “${wish.name}”: its portion was used by run “${taken.name}”; a portion serves one run.`,
      });
    }
  }
  const made = makeRun({
    ...wish,
    portion,
    id: names.next(),
    order: wish.order ?? ever.length + 1,
    madeAt: clock.now(),
  });
  if (made.ok) await desk.runs.add(made.value);
  return made;
}

async function enterPortion(
  desk: Desk,
  names: Tools['names'],
  study: Run['study'],
  run: string,
  weighed: NonNullable<RunWish['weighed']>,
): Promise<Outcome<Portion>> {
  const specimen = await known(desk.specimens.get(asId(weighed.specimen)), 'specimen', weighed.specimen);
  if (!specimen.ok) return specimen;
  if (specimen.value.study !== study) {
    return refused({
      why: 'other-study',
      message: `run “${run}”: “${specimen.value.name}” belongs to another study; choose a specimen of this one.`,
    });
  }
  const beside = (await everOf(desk.portions, study)).filter((one) => one.specimen === specimen.value.id);
  const name = freeName(`portion of ${run}`, beside);
  const made = makePortion({ ...weighed, id: names.next(), name, note: '' });
  if (made.ok) await desk.portions.add(made.value);
  return made;
}

function freeName(wanted: string, others: readonly { readonly name: string }[]): string {
  const taken = new Set(others.map((other) => other.name.toLowerCase()));
  for (let n = 1; ; n++) {
    const name = n === 1 ? wanted : `${wanted}, ${n}`;
    if (!taken.has(name.toLowerCase())) return name;
  }
}
