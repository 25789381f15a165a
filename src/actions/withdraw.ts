import { makeWithdrawal, type StudyId, type Withdrawable, type Withdrawal } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { asId, known } from './known.ts';
import type { Desk, Tools } from './ports.ts';

export interface WithdrawalWish {
  readonly study: string;
  readonly what: Withdrawable;
  readonly subject: string;
  readonly why: string;
  readonly by: string;
}

/** Takes a record back: it stays, with who and why, and counts no more. */
export const withdraw = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: WithdrawalWish,
): Promise<Outcome<Withdrawal>> => records.change((desk) => withdrawOnDesk(desk, { clock, names }, wish));

export async function withdrawOnDesk(
  desk: Desk,
  { clock, names }: Pick<Tools, 'clock' | 'names'>,
  wish: WithdrawalWish,
): Promise<Outcome<Withdrawal>> {
  const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
  if (!study.ok) return study;
  const there = await standingHere(desk, study.value.id, wish);
  if (!there) {
    return refused({
      why: `no-such-${wish.what}`,
      message: `This study has no such ${wish.what} that still stands; read the list anew.`,
    });
  }
  const held = await heldBy(desk, study.value.id, wish);
  if (held) return refused({ why: 'still-used', message: held });
  const made = makeWithdrawal({ ...wish, study: study.value.id, id: names.next(), at: clock.now() });
  if (!made.ok) return made;
  await desk.withdrawals.add(made.value);
  return done(made.value);
}

async function standingHere(desk: Desk, study: StudyId, { what, subject }: WithdrawalWish): Promise<boolean> {
  const shelf = { deviation: desk.deviations, fraction: desk.fractions, filter: desk.filters }[what];
  return (await shelf.ofStudy(study)).some((record) => record.id === subject);
}

/** What still leans on it, in a sentence; null where nothing does. */
async function heldBy(desk: Desk, study: StudyId, { what, subject }: WithdrawalWish): Promise<string | null> {
  if (what === 'filter') {
    const photos = (await desk.photos.ofStudy(study)).filter((photo) => photo.filter === subject);
    return photos.length === 0
      ? null
      : `The filter has ${photos.length} photograph${photos.length === 1 ? '' : 's'} and stays; say on it what went wrong instead.`;
  }
  if (what === 'fraction') {
    const filter = (await desk.filters.ofStudy(study)).find((one) => one.fraction === subject);
    return filter ? `Filter “${filter.name}” holds what this liquid left; take the filter back first.` : null;
  }
  return null;
}
