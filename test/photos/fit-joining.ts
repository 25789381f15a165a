/**
 * `npx tsx test/photos/fit-joining.ts`: fits the chance that two pieces that meet are parts of one to every meeting on the
 * tuned and fitting seeds and the example, and prints the weights for `join-touching.ts` with what they say and what is
 * so. Meetings with something that is no drawn piece tell nothing and are left out.
 */
import { bodyOf, type Contact, contactOf } from '../../src/science/imaging/contact.ts';
import { mendedPieces } from '../../src/science/imaging/find.ts';
import { JOINING, type JoiningSign } from '../../src/science/imaging/join-touching.ts';
import type { Piece } from '../../src/science/imaging/piece.ts';
import { UnderPrint } from '../../src/science/imaging/under-print.ts';
import { preparedPieces } from './candidates.ts';
import type { TestTruth } from './drawing/compose.ts';
import type { Family, SetName } from './drawing/sets.ts';
import { trueForm } from './judge-photo.ts';
import { fitLogistic, logistic, saidAndSo } from './logistic.ts';
import { partOf } from './match.ts';
import { openPhoto } from './open-photo.ts';
import { storedExample, storedSet } from './sets-on-disk.ts';

interface Meeting {
  readonly contact: Contact;
  readonly same: boolean;
}

const SIGNS = Object.keys(JOINING.weights) as JoiningSign[];

async function meetingsOn(path: string, truth: TestTruth): Promise<Meeting[]> {
  const found = preparedPieces(await openPhoto(path), truth);
  const { membrane } = found.prepared;
  if (!membrane) return [];
  const hidden = new UnderPrint(membrane.print);
  const bodies = mendedPieces(found.pieces, found.prepared).map(bodyOf);
  const forms = truth.pieces.map(trueForm);
  const whose = (p: Piece) => forms.findIndex((f) => partOf({ outline: p.outline, feretPx: 0 }, f));
  const meetings: Meeting[] = [];
  bodies.forEach((a, i) => {
    for (const b of bodies.slice(i + 1)) {
      const contact = contactOf(a, b, hidden);
      if (!contact) continue;
      const [first, second] = [whose(a.piece), whose(b.piece)];
      if (first >= 0 && second >= 0) meetings.push({ contact, same: first === second });
    }
  });
  return meetings;
}

async function gather(families: readonly Family[]): Promise<Meeting[]> {
  const all: Meeting[] = [];
  for (const family of families) {
    for (const set of ['ordinary', 'hard'] satisfies SetName[]) {
      for await (const { path, truth } of storedSet(set, family))
        all.push(...(await meetingsOn(path, truth)));
    }
  }
  return all;
}

const seen = await gather(['tuned', 'fitting']);
for await (const { path, truth } of storedExample()) seen.push(...(await meetingsOn(path, truth)));
const rowOf = (m: Meeting): number[] => [1, ...SIGNS.map((name) => m.contact[name])];
const weights = fitLogistic(
  seen.map(rowOf),
  seen.map((m) => m.same),
);
const table = (meetings: readonly Meeting[]): string =>
  saidAndSo(meetings.map((m) => ({ chance: logistic(rowOf(m), weights), so: m.same })));
console.log(
  `Fitted to ${seen.length} meetings, ${seen.filter((m) => m.same).length} of them within one piece.`,
);
console.log(`offset: ${weights[0]!.toFixed(2)}`);
SIGNS.forEach((name, k) => {
  console.log(`${name}: ${weights[k + 1]!.toFixed(2)}`);
});
console.log(`Tuned and fitting seeds:\n${table(seen)}`);
console.log(`Held-out seeds:\n${table(await gather(['held-out']))}`);
