import {
  type AsGiven,
  makeTap,
  makeTapDeed,
  newestStanding,
  type Run,
  runSheet,
  standingTaps,
  strayStep,
  type Tap,
  type TapDeed,
  tapProblem,
} from '../study/index.ts';
import { done, type Outcome, type Refusal, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Desk, Tools } from './ports.ts';
import { deviationOnDesk, filterOnDesk, fractionOnDesk } from './record-at-the-bench.ts';
import { withdrawOnDesk } from './withdraw.ts';

export interface TapWish {
  readonly id: string;
  readonly run: string;
  readonly device: string;
  readonly number: number;
  readonly deed: unknown;
  readonly at: string;
  readonly by: string;
}

export interface TapKept {
  readonly tap: Tap;
  /** True when it had arrived before; nothing was done again. */
  readonly known: boolean;
}

type Needs = Pick<Tools, 'records' | 'clock' | 'names'>;

/**
 * Takes in one tap of a device and does what it says, once, however often it is sent. A tap that cannot be done is kept all
 * the same, as it was typed, with the reason. Refused as a whole only where it cannot be kept: no such run, no sound
 * identity, or another tap under its number.
 */
export async function recordTap(tools: Needs, wish: TapWish): Promise<Outcome<TapKept>> {
  const deed = makeTapDeed(wish.deed);
  let trouble: Refusal | null = deed.ok ? null : deed.refusal;
  if (deed.ok) {
    const whole = await tools.records.change(async (desk): Promise<Outcome<TapKept>> => {
      const ready = await arrived(desk, tools, wish, deed.value, null);
      if (!ready.ok || ready.value.known) return ready;
      const carried = await carryOut(desk, tools, ready.value.tap);
      if (!carried.ok) {
        trouble = carried.refusal;
        return carried;
      }
      await desk.taps.add(ready.value.tap);
      return ready;
    });
    if (whole.ok || trouble === null) return whole;
  }
  return tools.records.change(async (desk) => {
    const ready = await arrived(desk, tools, wish, wish.deed, trouble);
    if (ready.ok && !ready.value.known) await desk.taps.add(ready.value.tap);
    return ready;
  });
}

/** The tap as a record, or the one that is here already. */
async function arrived(
  desk: Desk,
  { clock }: Pick<Tools, 'clock'>,
  wish: TapWish,
  deed: unknown,
  refusal: Refusal | null,
): Promise<Outcome<TapKept>> {
  const made = makeTap({ ...wish, deed, refusal, receivedAt: clock.now() } as AsGiven<Tap>);
  if (!made.ok) return made;
  const there = await desk.taps.get(made.value.id);
  if (there) return done({ tap: there, known: true });
  const run = await known(desk.runs.get(made.value.run), 'run', wish.run);
  if (!run.ok) return run;
  const person = await known(desk.people.get(made.value.by), 'person', wish.by);
  if (!person.ok) return person;
  return (await desk.taps.byNumber(made.value.device, made.value.number))
    ? refused({
        why: 'number-taken',
        message: `Tap ${wish.number} of this device is here already as another one; the page must be loaded anew.`,
      })
    : done({ tap: made.value, known: false });
}

/** What the tap changes beside being kept; its own id names the record that it makes. */
async function carryOut(desk: Desk, { clock, names }: Needs, tap: Tap): Promise<Outcome<null>> {
  const { deed, run, by, id } = tap;
  const cannotBe = await problemOf(desk, tap);
  if (cannotBe) return refused(cannotBe);
  const within = { clock, names, id };
  const only = <T>(outcome: Outcome<T>): Outcome<null> => (outcome.ok ? done(null) : outcome);
  switch (deed.do) {
    case 'otherwise':
      return only(
        await deviationOnDesk(desk, within, {
          runs: [run],
          kind: deed.kind,
          stepKey: deed.step,
          asDone: deed.as_done,
          what: deed.what,
          why: deed.why,
          by,
        }),
      );
    case 'lay-filter':
      return only(
        await filterOnDesk(desk, within, {
          run,
          fraction: deed.fraction,
          name: deed.name,
          material: deed.material,
          poreUm: deed.pore_um,
          effectiveDiameterMm: deed.effective_diameter_mm,
          pitchMm: deed.pitch_mm,
          lot: deed.lot,
          examinedStated: null,
          note: '',
        }),
      );
    case 'fraction':
      return only(
        await fractionOnDesk(desk, within, {
          run,
          kind: deed.kind,
          volumeMl: deed.volume_ml,
          place: deed.place,
          fate: deed.fate,
          note: deed.note,
        }),
      );
    case 'filtered':
      return filtered(desk, { clock, names }, tap, deed);
    case 'undo':
      return undo(desk, { clock, names }, tap, deed.tap);
    default:
      return done(null);
  }
}

/** Why the tap says what cannot be of its run, as the run stands now; null where it can. */
async function problemOf(desk: Desk, { run: id, deed }: Tap): Promise<Refusal | null> {
  if (!('step' in deed)) return null;
  const run = (await desk.runs.get(id)) as Run;
  const edition = await desk.editions.get(run.edition);
  const taps = await desk.taps.ofRun(id);
  const { steps } = runSheet(edition ?? { steps: [] }, run, await desk.deviations.ofStudy(run.study), taps);
  const there = steps.map(({ step }) => step);
  return strayStep(deed, there) ?? tapProblem(deed, there, standingTaps(taps));
}

type Filtered = Extract<TapDeed, { readonly do: 'filtered' }>;

/** What passed and what did not, as two fractions; a part of nothing is none. */
async function filtered(
  desk: Desk,
  { clock, names }: Pick<Tools, 'clock' | 'names'>,
  { run, id }: Tap,
  deed: Filtered,
): Promise<Outcome<null>> {
  if (deed.passed_ml === 0 && deed.remainder_ml === 0) {
    return refused({
      why: 'nothing-filtered',
      message: 'Filtration: nothing passed and nothing is left; enter the volumes as they stand.',
    });
  }
  const note = deed.clogged ? 'the filter clogged' : '';
  if (deed.passed_ml > 0) {
    const passed = await fractionOnDesk(
      desk,
      { clock, names, id },
      {
        run,
        kind: 'passed',
        volumeMl: deed.passed_ml,
        place: '',
        fate: 'examined',
        note,
      },
    );
    if (!passed.ok) return passed;
  }
  if (deed.remainder_ml > 0) {
    const left = await fractionOnDesk(
      desk,
      { clock, names, id: deed.remainder },
      {
        run,
        kind: 'remainder',
        volumeMl: deed.remainder_ml,
        place: deed.place,
        fate: deed.fate,
        note,
      },
    );
    if (!left.ok) return left;
  }
  return done(null);
}

/** Takes back what the tap made, and the tap. Only the newest that stands can be undone, so that nothing leans on it. */
async function undo(
  desk: Desk,
  tools: Pick<Tools, 'clock' | 'names'>,
  { run, by }: Tap,
  wanted: string,
): Promise<Outcome<null>> {
  const taps = await desk.taps.ofRun(run);
  const tap = standingTaps(taps).find((one) => one.id === wanted);
  if (!tap) {
    return refused({
      why: 'nothing-to-undo',
      message: 'That tap does not stand any more; there is nothing to undo.',
    });
  }
  const made = madeBy(tap.deed, tap.id);
  if (made.length > 0 && newestStanding(taps)?.id !== wanted && tap.deed.do === 'lay-filter') {
    const leaning = standingTaps(taps).some((one) => 'filter' in one.deed && one.deed.filter === wanted);
    if (leaning) {
      return refused({
        why: 'still-used',
        message: 'Volume marks were made on that filter; undo them first.',
      });
    }
  }
  const owner = (await desk.runs.get(asId<'run'>(run))) as Run;
  for (const record of made) {
    const gone = await withdrawOnDesk(desk, tools, {
      study: owner.study,
      what: record.what,
      subject: record.id,
      why: 'undone at the bench',
      by,
    });
    if (!gone.ok && !gone.refusal.why.startsWith('no-such-')) return gone;
  }
  return done(null);
}

function madeBy(deed: TapDeed, id: string): { what: 'deviation' | 'fraction' | 'filter'; id: string }[] {
  switch (deed.do) {
    case 'otherwise':
      return [{ what: 'deviation', id }];
    case 'lay-filter':
      return [{ what: 'filter', id }];
    case 'fraction':
      return [{ what: 'fraction', id }];
    case 'filtered':
      return [
        { what: 'fraction', id },
        { what: 'fraction', id: deed.remainder },
      ];
    default:
      return [];
  }
}
