/** What an opened round shows: agreement, leaks, known pieces, repeats, and what its pictures are taken for. */
import {
  agreementInterval,
  agreementWhenRare,
  cohenKappa,
  type Interval,
  kappaWord,
  piecesByTwoScorers,
} from '../../science/counting/index.ts';
import {
  comparePopulations,
  type GuessTest,
  guessTest,
  type PopulationTest,
  type RunPieces,
} from '../../science/evidence/index.ts';
import type { BlindRound, CardSide, KeyCard } from '../records/blind-round.ts';
import { CALLS, type KnownPiece } from '../records/known-set.ts';
import type { PersonId } from '../records/laboratory.ts';
import { sizeStep } from './drill-rates.ts';
import { isSynthetic } from './material-classes.ts';
import { type LatestReadings, type Resolved, resolve } from './round-state.ts';

/** What is known of the piece behind a card once the key is open. */
export interface CardFacts {
  readonly run: string;
  readonly sizeUm: number | null;
  readonly shape: string;
  readonly colour: string;
}

const CONFIDENCE = 0.95;

export interface PartAgreement {
  readonly name: string;
  readonly pictures: number;
  readonly same: number;
}

export interface RoundAgreement {
  readonly pictures: number;
  readonly same: number;
  /** Rows: first scorer; columns: second; in the order plastic, other, cannot tell. */
  readonly table: readonly (readonly number[])[];
  readonly kappa: (Interval & { readonly word: string }) | null;
  readonly robust: Interval | null;
  /** Of what at least one called so: how often both did. */
  readonly byClass: readonly PartAgreement[];
  readonly bySize: readonly PartAgreement[];
  readonly byShape: readonly PartAgreement[];
  /** Pieces called plastic by the first, the second, both; and how many there are if the two were independent. */
  readonly found: {
    readonly first: number;
    readonly second: number;
    readonly both: number;
    readonly estimate: Interval;
  };
}

/** Agreement of the two scorers' first readings. Null with one scorer, or before both have read. */
export function roundAgreement(
  round: BlindRound,
  readings: LatestReadings,
  facts: ReadonlyMap<string, CardFacts>,
): RoundAgreement | null {
  const [first, second] = round.scorers;
  if (first === undefined || second === undefined) return null;
  const pairs = round.key.flatMap((card) => {
    const a = readings.of(card.code, first)?.called;
    const b = readings.of(card.code, second)?.called;
    return a && b ? [{ card, a, b }] : [];
  });
  if (pairs.length === 0) return null;
  const table = CALLS.map((row) =>
    CALLS.map((column) => pairs.filter(({ a, b }) => a === row && b === column).length),
  );
  const used = CALLS.filter(
    (_, i) => table[i]!.some((n) => n > 0) || table.some((row) => row[i]! > 0),
  ).length;
  const kappa = used > 1 ? cohenKappa(table) : null;
  const interval = kappa && agreementInterval(kappa, CONFIDENCE);
  const parts = (name: (card: KeyCard) => string): readonly PartAgreement[] => {
    const groups = new Map<string, typeof pairs>();
    for (const pair of pairs) groups.set(name(pair.card), [...(groups.get(name(pair.card)) ?? []), pair]);
    return [...groups].map(([of, some]) => ({
      name: of,
      pictures: some.length,
      same: some.filter(({ a, b }) => a === b).length,
    }));
  };
  const count = (test: (pair: (typeof pairs)[number]) => boolean): number => pairs.filter(test).length;
  const a = count((pair) => pair.a === 'plastic');
  const b = count((pair) => pair.b === 'plastic');
  const both = count((pair) => pair.a === 'plastic' && pair.b === 'plastic');
  return {
    pictures: pairs.length,
    same: count((pair) => pair.a === pair.b),
    table,
    kappa: kappa && interval && { ...interval, word: kappaWord(kappa.value) },
    robust: agreementInterval(agreementWhenRare(table), CONFIDENCE),
    byClass: CALLS.map((call) => ({
      name: call,
      pictures: count((pair) => pair.a === call || pair.b === call),
      same: count((pair) => pair.a === call && pair.b === call),
    })),
    bySize: parts((card) => sizeStep(facts.get(card.code)?.sizeUm ?? null)),
    byShape: parts((card) => facts.get(card.code)?.shape ?? 'not known'),
    found: { first: a, second: b, both, estimate: piecesByTwoScorers(a, b, both, CONFIDENCE) },
  };
}

export interface ScorerOutcome {
  readonly person: PersonId;
  readonly leak: GuessTest;
  readonly repeats: { readonly pictures: number; readonly same: number };
  /** Known pieces that were slipped in: called plastic, of shown. */
  readonly knownPlastic: { readonly k: number; readonly n: number };
  readonly knownOthers: { readonly k: number; readonly n: number };
}

export function scorerOutcome(
  round: BlindRound,
  person: PersonId,
  readings: LatestReadings,
  known: ReadonlyMap<string, KnownPiece>,
): ScorerOutcome {
  const guesses = round.key.flatMap((card) => {
    const guess = readings.of(card.code, person)?.guess;
    return guess && card.side !== 'known' ? [{ side: card.side, guess }] : [];
  });
  const of = (side: CardSide, guess?: string): number =>
    guesses.filter((one) => one.side === side && (guess === undefined || one.guess === guess)).length;
  const again = round.key.flatMap((card) => {
    const first = readings.of(card.code, person, 1)?.called;
    const second = readings.of(card.code, person, 2)?.called;
    return first && second ? [first === second] : [];
  });
  const slipped = round.key.flatMap((card) => {
    const piece = card.piece === null ? undefined : known.get(card.piece);
    const called = readings.of(card.code, person)?.called;
    return piece && called ? [{ plastic: isSynthetic(piece.class), called }] : [];
  });
  const tally = (plastic: boolean) => {
    const some = slipped.filter((one) => one.plastic === plastic);
    return { k: some.filter((one) => one.called === 'plastic').length, n: some.length };
  };
  return {
    person,
    leak: guessTest({
      specimens: of('specimen'),
      controls: of('control'),
      hits: of('specimen', 'specimen'),
      falseHits: of('control', 'specimen'),
    }),
    repeats: { pictures: again.length, same: again.filter(Boolean).length },
    knownPlastic: tally(true),
    knownOthers: tally(false),
  };
}

export interface ResolvedCard extends Resolved {
  readonly card: KeyCard;
}

export const resolvedCards = (round: BlindRound, readings: LatestReadings): readonly ResolvedCard[] =>
  round.what === 'fields' ? [] : round.key.map((card) => ({ card, ...resolve(round, card, readings) }));

/** Do the pieces taken for plastic differ between specimen runs and controls, in size, shape, colour? */
export function populationsOf(
  resolved: readonly ResolvedCard[],
  facts: ReadonlyMap<string, CardFacts>,
): readonly PopulationTest[] | null {
  const runs = new Map<
    string,
    { specimen: boolean; sizesUm: number[]; shapes: string[]; colours: string[] }
  >();
  for (const { card, call } of resolved) {
    const fact = facts.get(card.code);
    if (card.side === 'known' || !fact || fact.run === '') continue;
    const run = runs.get(fact.run) ?? {
      specimen: card.side === 'specimen',
      sizesUm: [],
      shapes: [],
      colours: [],
    };
    runs.set(fact.run, run);
    if (call !== 'plastic' || fact.sizeUm === null) continue;
    run.sizesUm.push(fact.sizeUm);
    run.shapes.push(fact.shape);
    run.colours.push(fact.colour);
  }
  return comparePopulations([...runs.values()] satisfies readonly RunPieces[]);
}
