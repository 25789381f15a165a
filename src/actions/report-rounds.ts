/** Blinded rounds as a report tells them: of a sealed one that it is sealed, of an open one what it found. */
import type { ReportRound } from '../report/index.ts';
import {
  type BlindRound,
  type CardFacts,
  fieldsAgreement,
  keyIsHere,
  latestReadings,
  populationsOf,
  resolvedCards,
  roundAgreement,
  type Study,
  scorerOutcome,
} from '../study/index.ts';
import type { Look } from './ports.ts';
import { type RoundAtHand, roundAtHand } from './score-round.ts';

/** What is known of each card's piece once the key is open. */
export async function cardFactsOf(
  look: Look,
  round: BlindRound,
): Promise<ReadonlyMap<string, CardFacts & { readonly number: number | null }>> {
  const runs = new Map((await look.runs.ofStudy(round.study)).map((run) => [run.id as string, run.name]));
  const filters = new Map(
    (await look.filters.ofStudy(round.study)).map((one) => [one.id as string, one.run as string]),
  );
  const photos = new Map(
    (await look.photos.ofStudy(round.study)).map((one) => [one.id as string, one.filter as string]),
  );
  const ids = round.key.flatMap((card) => card.particle ?? []);
  const particles = new Map((await look.particles.some(ids)).map((one) => [one.id, one]));
  return new Map(
    round.key.map((card) => {
      const particle = card.particle && particles.get(card.particle);
      return [
        card.code,
        {
          run: runs.get(filters.get(photos.get(card.photo) ?? '') ?? '') ?? '',
          sizeUm: particle ? particle.feretMaxUm : null,
          shape: particle ? particle.shapeNow : 'not known',
          colour: particle ? particle.colourNow : 'not known',
          number: particle ? particle.number : null,
        },
      ];
    }),
  );
}

export async function roundsReported(
  look: Look,
  study: Study,
  people: ReadonlyMap<string, string>,
): Promise<readonly ReportRound[]> {
  const out: ReportRound[] = [];
  for (const { id } of await look.rounds.ofStudy(study.id)) {
    const at = await roundAtHand(look, id);
    if (at.ok) out.push(await reported(look, at.value, people));
  }
  return out;
}

async function reported(
  look: Look,
  at: RoundAtHand,
  people: ReadonlyMap<string, string>,
): Promise<ReportRound> {
  const { round, state, events } = at;
  const name = (person: string): string => people.get(person) ?? '';
  return {
    name: round.name,
    what: round.what,
    sealedBy: name(round.by),
    sealedAt: round.at,
    keyHash: round.keyHash,
    keyIsHere: keyIsHere(round),
    scorers: round.scorers.map((person) => ({ name: name(person), locked: state.lockedBy.has(person) })),
    third: round.third && name(round.third),
    events: events.map(({ deed, says, by, at: when }) => ({ deed, says, by: name(by), at: when })),
    opened: state.opened ? await outcomeOf(look, at, name) : null,
  };
}

/** Only of an opened round: it reads the key. */
async function outcomeOf(
  look: Look,
  { round, readings }: RoundAtHand,
  name: (person: string) => string,
): Promise<ReportRound['opened']> {
  const latest = latestReadings(readings);
  const facts = await cardFactsOf(look, round);
  const set = round.knownSet && (await look.knownSets.get(round.knownSet));
  const known = new Map((set ? set.pieces : []).map((piece) => [piece.key, piece]));
  const resolved = resolvedCards(round, latest);
  return {
    pictures: round.key.length,
    slippedIn: round.key.filter(({ side }) => side === 'known').length,
    sides: (['specimen', 'control'] as const).map((side) => {
      const mine = resolved.filter((one) => one.card.side === side);
      const of = (call: string): number => mine.filter((one) => one.call === call).length;
      return { side, plastic: of('plastic'), other: of('other'), undecided: of('undecided') };
    }),
    agreement: round.what === 'pieces' ? roundAgreement(round, latest, facts) : null,
    fields: fieldsAgreement(round, latest),
    scorers: round.scorers.map((person) => ({
      name: name(person),
      ...scorerOutcome(round, person, latest, known),
    })),
    populations: round.what === 'pieces' ? populationsOf(resolved, facts) : null,
  };
}
