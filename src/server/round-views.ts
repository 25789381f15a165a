/** Blinded rounds as they travel. Before the opening nothing of the key leaves this file. */

import type { Look } from '../actions/index.ts';
import { cardFactsOf, type RoundAtHand, roundAtHand } from '../actions/index.ts';
import type { OutcomeJson, RoundJson } from '../api/index.ts';
import {
  fieldsAgreement,
  type KnownPiece,
  latestReadings,
  type PersonId,
  populationsOf,
  progressOf,
  resolvedCards,
  roundAgreement,
  scorerOutcome,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { namesOf, stageOf } from './evidence-views.ts';
import type { Served } from './served.ts';

const bare = <T extends { value: number; lower: number; upper: number }>({ value, lower, upper }: T) => ({
  value,
  lower,
  upper,
});

async function outcomeJson(
  look: Look,
  { round, readings }: RoundAtHand,
  people: ReadonlyMap<string, string>,
): Promise<OutcomeJson> {
  const latest = latestReadings(readings);
  const facts = await cardFactsOf(look, round);
  const set = round.knownSet && (await look.knownSets.get(round.knownSet));
  const known = new Map<string, KnownPiece>((set ? set.pieces : []).map((piece) => [piece.key, piece]));
  const resolved = resolvedCards(round, latest);
  const byCode = new Map(resolved.map((one) => [one.card.code, one]));
  const agreement = round.what === 'pieces' ? roundAgreement(round, latest, facts) : null;
  const fields = fieldsAgreement(round, latest);
  const part = ({ name, pictures, same }: { name: string; pictures: number; same: number }) => ({
    name,
    pictures,
    same,
  });
  return {
    agreement: agreement && {
      pictures: agreement.pictures,
      same: agreement.same,
      table: agreement.table.map((row) => [...row]),
      kappa: agreement.kappa && { ...bare(agreement.kappa), word: agreement.kappa.word },
      robust: agreement.robust && bare(agreement.robust),
      by_class: agreement.byClass.map(part),
      by_size: agreement.bySize.map(part),
      by_shape: agreement.byShape.map(part),
      found: { ...agreement.found, estimate: bare(agreement.found.estimate) },
    },
    fields: fields && {
      fields: fields.fields,
      first: fields.first,
      second: fields.second,
      both: fields.both,
      overlap: fields.overlap,
      estimate: bare(fields.estimate),
      missed_by_both: fields.missedByBoth,
      table: fields.table.map((row) => [...row]),
      robust: fields.robust && bare(fields.robust),
      sizes: fields.sizes,
    },
    scorers: round.scorers.map((person) => {
      const { leak, repeats, knownPlastic, knownOthers } = scorerOutcome(round, person, latest, known);
      return {
        person,
        name: people.get(person) ?? '',
        leak,
        repeats,
        known_plastic: knownPlastic,
        known_others: knownOthers,
      };
    }),
    resolved: (['specimen', 'control'] as const).map((side) => {
      const mine = resolved.filter((one) => one.card.side === side);
      const of = (call: string): number => mine.filter((one) => one.call === call).length;
      return { side, plastic: of('plastic'), other: of('other'), undecided: of('undecided') };
    }),
    populations:
      round.what === 'pieces' ? (populationsOf(resolved, facts)?.map((one) => ({ ...one })) ?? null) : null,
    key: round.key.map((card) => ({
      code: card.code,
      side: card.side,
      run: facts.get(card.code)?.run ?? '',
      particle: facts.get(card.code)?.number ?? null,
      piece: card.piece,
      calls: [...round.scorers, ...(round.third ? [round.third] : [])].map(
        (person) => latest.of(card.code, person)?.called ?? null,
      ),
      taken_for: byCode.get(card.code)?.call ?? null,
      how: byCode.get(card.code)?.how ?? null,
    })),
  };
}

export const roundView = (served: Served, id: string): Promise<Outcome<RoundJson>> =>
  served.records.look(async (look) => {
    const at = await roundAtHand(look, id);
    if (!at.ok) return at;
    const { round, state, events, readings } = at.value;
    const people = await namesOf(look);
    const latest = latestReadings(readings);
    const name = (person: string): string => people.get(person) ?? '';
    const progress = (person: PersonId) => ({
      ...progressOf(round, person, state, latest),
      name: name(person),
    });
    const told = (event: (typeof events)[number]) => ({ by: name(event.by), at: event.at, says: event.says });
    return done({
      id: round.id,
      name: round.name,
      what: round.what,
      stage: await stageOf(look, round),
      pictures: round.key.length,
      key_hash: round.keyHash,
      seed: state.opened ? round.seed : null,
      known_slipped_in: round.knownSet !== null,
      scorers: round.scorers.map(progress),
      third: round.third && progress(round.third),
      predictions: state.predictions.map(told),
      events: events.map((event) => ({ deed: event.deed, ...told(event) })),
      working: served.person,
      sealed_by: name(round.by),
      at: round.at,
      outcome: state.opened ? await outcomeJson(look, at.value, people) : null,
    });
  });
