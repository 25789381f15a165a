import { type ClaimSnapshot, type Json, makeClaimSnapshot } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { countStudy } from './count-runs.ts';
import { asId, known } from './known.ts';
import type { Tools } from './ports.ts';
import { standingFrom } from './standing.ts';

/** Only what JSON can say; undefined fields fall away. */
const asJson = (value: unknown): Json => JSON.parse(JSON.stringify(value)) as Json;

/** Writes down what can be claimed of a specimen now, with the counts that it came from; earlier ones stay. */
export const snapshotClaim = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: { readonly study: string; readonly specimen: string; readonly by: string; readonly version: string },
): Promise<Outcome<ClaimSnapshot>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const person = await known(desk.people.get(asId(wish.by)), 'person', wish.by);
    if (!person.ok) return person;
    const stands = standingFrom(await countStudy(desk, study.value));
    const mine = stands.specimens.find(({ specimen }) => specimen.id === wish.specimen);
    if (!mine) {
      return refused({
        why: 'no-such-specimen',
        message: `Study “${study.value.name}” has no runs on specimen ${wish.specimen}; record one first.`,
      });
    }
    const made = makeClaimSnapshot({
      id: names.next(),
      study: wish.study,
      specimen: wish.specimen,
      claim: asJson(mine.claim) as never,
      counts: asJson(mine.input.input) as never,
      version: wish.version,
      at: clock.now(),
      by: wish.by,
    });
    if (!made.ok) return made;
    await desk.claims.add(made.value);
    return done(made.value);
  });
