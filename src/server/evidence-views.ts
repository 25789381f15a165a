/** The evidence of a study as it travels: what there is, and what a further test would tell. */
import {
  type Confirmed,
  type CountedStudy,
  confirmationThatCounts,
  countStudy,
  drawnFor,
  drillOf,
  type Evidence,
  evidenceOf,
  type Look,
  sideOf,
  verdictOf,
} from '../actions/index.ts';
import type { EvidenceAnswer, SubsetDetail } from '../api/index.ts';
import { BENCH_TESTS, benchTest } from '../bench/index.ts';
import {
  chanceOfPlastic,
  type Tally as Rate,
  type UncertainTest,
  worthTesting,
} from '../science/evidence/index.ts';
import {
  type BenchAnswer,
  type BlindRound,
  disputed,
  type Id,
  keyIsHere,
  latestReadings,
  type Side,
  type Study,
  stateOfRound,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { sittingsOf } from './drill-views.ts';
import { answerJson, drillJson, setJson, subsetJson } from './evidence-json.ts';
import { countingFor, markedParticle } from './photo-views.ts';
import type { Served } from './served.ts';

const asId = <K extends string>(id: string): Id<K> => id as Id<K>;
export const missing = (what: string, id: string) =>
  refused({
    why: `no-such-${what}`,
    message: `There is no ${what} ${id} in this laboratory; read the list anew.`,
  });

export const namesOf = async (look: Look): Promise<ReadonlyMap<string, string>> =>
  new Map((await look.people.list()).map((person) => [person.id, person.name]));

/** Answers shown, newest first. */
const LATEST = 400;
const A_DOZEN = 12;

export async function stageOf(
  look: Look,
  round: BlindRound,
): Promise<EvidenceAnswer['rounds'][number]['stage']> {
  const state = stateOfRound(await look.roundEvents.ofRound(round.id));
  if (state.takenOver) return 'taken-over';
  if (state.opened) return 'opened';
  if (!keyIsHere(round)) return 'elsewhere';
  if (!round.scorers.every((scorer) => state.lockedBy.has(scorer))) return 'scoring';
  const third = round.third !== null && !state.lockedBy.has(round.third);
  if (!third) return 'ready';
  return disputed(round, latestReadings(await look.readings.ofRound(round.id))).length > 0
    ? 'third'
    : 'ready';
}

/** Rates of a test: the drill of this laboratory, else published ones (said so), else none. */
export function ratesOf(
  evidence: Evidence,
  test: string,
): { plastic: Rate; others: Rate; from: 'drill' | 'published' | 'nothing' } {
  const drill = drillOf(evidence.rates.get(test));
  if (drill) {
    return {
      plastic: { k: drill.truePositive[0], n: drill.truePositive[1] },
      others: { k: drill.falsePositive[0], n: drill.falsePositive[1] },
      from: 'drill',
    };
  }
  const published = benchTest(test)?.published ?? [];
  const of = (what: (typeof published)[number]['what']): Rate => {
    const rate = published.find((one) => one.what === what);
    return rate ? { k: rate.share * rate.worth, n: rate.worth } : { k: 0, n: 0 };
  };
  return {
    plastic: of('kept-of-plastic'),
    others: of('kept-of-others'),
    from: published.length > 0 ? 'published' : 'nothing',
  };
}

/** What is known of the share among the specimens' pieces: from the subset that counts, else nothing. */
function knownShare(confirmed: readonly Confirmed[]): { a: number; b: number } {
  const last = confirmationThatCounts(confirmed)?.specimens;
  return last ? { a: last.positive + 1, b: last.worth - last.positive + 1 } : { a: 1, b: 1 };
}

const worthOf = (evidence: Evidence): EvidenceAnswer['worth'] => {
  const known = knownShare(evidence.confirmed);
  return BENCH_TESTS.map((test) => {
    const rates = ratesOf(evidence, test.id);
    return { test: test.id, ...worthTesting(known, rates, A_DOZEN), rates_from: rates.from };
  }).sort((x, y) => x.after - y.after);
};

export const evidenceView = (served: Served, id: string): Promise<Outcome<EvidenceAnswer>> =>
  served.records.look(async (look) => {
    const study = await look.studies.get(asId(id));
    if (!study) return missing('study', id);
    const people = await namesOf(look);
    const evidence = await evidenceOf(look, study);
    const counted = await countStudy(look, study);
    const withRuns = specimensWithRuns(counted);
    const counting = confirmationThatCounts(evidence.confirmed);
    const of = (side: Side): number =>
      counted.runs.reduce((sum, run) => sum + (sideOf(run.run) === side ? (run.count ?? 0) : 0), 0);
    const all = await look.benchAnswers.ofStudy(study.id);
    const newest = [...all].reverse().slice(0, LATEST);
    const standing = new Set<string>(evidence.answers.map((answer) => answer.id));
    const drawing = await look.confirmations.ofStudy(study.id);
    const drawn = new Map(BENCH_TESTS.map(({ id: test }) => [test, drawnFor(drawing, test)]));
    const named = [...newest, ...evidence.answers].map(({ particle }) => particle);
    const particles = await look.particles.some([...new Set(named)]);
    const number = new Map(particles.map((particle) => [particle.id, particle.number]));
    const rounds = [];
    for (const round of await look.rounds.ofStudy(study.id)) {
      const { name, what, key, at } = round;
      rounds.push({ id: round.id, name, what, pictures: key.length, stage: await stageOf(look, round), at });
    }
    return done({
      counted: { specimens: of('specimens'), controls: of('controls') },
      answers: newest.map((answer) =>
        answerJson(answer, {
          people,
          number: number.get(answer.particle) ?? 1,
          undone: !standing.has(answer.id),
        }),
      ),
      by_hand: evidence.answers
        .filter(({ particle, test }) => !drawn.get(test)?.has(particle))
        .reverse()
        .map((answer) =>
          answerJson(answer, { people, number: number.get(answer.particle) ?? 1, undone: false }),
        ),
      sets: evidence.sets.map((set) => setJson(set, people)),
      drills: [...evidence.rates].map(([test, rates]) =>
        drillJson(test, rates, { sets: evidence.sets, answers: evidence.drillAnswers, people }),
      ),
      sittings: sittingsOf(
        evidence.sets,
        await look.drillAnswers.ofStudy(study.id),
        await look.evidenceUndos.ofStudy(study.id),
        people,
      ),
      subsets: evidence.confirmed.map((one) => subsetJson(one, people, withRuns, one === counting)),
      rounds: rounds.reverse(),
      worth: worthOf(evidence),
      people: [...people].map(([person, name]) => ({ id: person, name })),
      working: served.person,
    });
  });

const specimensWithRuns = ({ specimens, runs }: CountedStudy) =>
  specimens.filter(({ id }) => runs.some((run) => run.specimen?.id === id));

/** Where a chance starts from before any test: the laboratory's own share, else a published one that is labelled. */
export function priorOf(confirmed: Confirmed | undefined): { prior: number; from: string } {
  return confirmed?.specimens
    ? { prior: confirmed.specimens.share.value, from: `the share in “${confirmed.confirmation.name}” so far` }
    : {
        prior: 0.68,
        from: 'published: 68 % of what was picked by eye was plastic (Lenz et al. 2015); a start only, until pieces are tested here',
      };
}

/** The chance to be plastic after some answers; null: none of them says anything. */
export function chanceAfter(
  evidence: Evidence,
  prior: number,
  answers: readonly BenchAnswer[],
): SubsetDetail['pieces'][number]['chance'] {
  const said = answers.flatMap((answer): UncertainTest[] => {
    const verdict = verdictOf(answer);
    const test = benchTest(answer.test);
    if (verdict === 'nothing' || !test) return [];
    const { plastic, others } = ratesOf(evidence, answer.test);
    return [{ group: test.errsBy, plastic, others, outcome: verdict === 'for' ? 'pass' : 'fail' }];
  });
  if (said.length === 0) return null;
  const { value, lower, upper, ifIndependent, ifTogether } = chanceOfPlastic(prior, said);
  return { value, lower, upper, if_independent: ifIndependent, if_together: ifTogether };
}

export async function subsetDetail(look: Look, id: string): Promise<Outcome<SubsetDetail>> {
  const confirmation = await look.confirmations.get(asId(id));
  const study: Study | null = confirmation && (await look.studies.get(confirmation.study));
  if (!confirmation || !study) return missing('subset', id);
  const people = await namesOf(look);
  const evidence = await evidenceOf(look, study);
  const counted = await countStudy(look, study);
  const confirmed = evidence.confirmed.find((one) => one.confirmation.id === confirmation.id)!;
  const { prior, from } = priorOf(confirmed);
  const runs = new Map(
    counted.runs.flatMap((run) => run.filters.map((filter) => [filter.id as string, run.run.name])),
  );
  const homes = new Map(
    (await look.photos.ofStudy(study.id)).map((line) => [line.id as string, line.filter]),
  );
  const drawn = confirmation.strata.flatMap(({ name, side, drawn: ids }) =>
    ids.map((one) => ({ name, side, one })),
  );
  const particles = new Map(
    (await look.particles.some(drawn.map(({ one }) => one))).map((particle) => [particle.id, particle]),
  );
  const pieces = drawn.flatMap(({ name, side, one }) => {
    const particle = particles.get(one);
    const filter = particle && homes.get(particle.photo);
    if (!particle || !filter) return [];
    const answers = evidence.answers.filter((answer) => answer.particle === one);
    return [{ name, side, particle, filter, answers }];
  });
  // in the order of filters and places, so that the stage moves little
  pieces.sort((a, b) =>
    a.filter === b.filter ? a.particle.number - b.particle.number : a.filter < b.filter ? -1 : 1,
  );
  const others = await countingFor(
    look,
    pieces.map(({ particle }) => particle),
  );
  return done({
    subset: subsetJson(
      confirmed,
      people,
      specimensWithRuns(counted),
      confirmed === confirmationThatCounts(evidence.confirmed),
    ),
    prior,
    prior_from: from,
    pieces: pieces.map(({ name, side, particle, filter, answers }, at) => {
      return {
        place: at + 1,
        stratum: name,
        side,
        run: runs.get(filter) ?? '',
        filter,
        photo: particle.photo,
        particle: markedParticle(particle, counted, others, new Map()),
        answers: answers.map((answer) =>
          answerJson(answer, { people, number: particle.number, undone: false }),
        ),
        chance: chanceAfter(evidence, prior, answers),
      };
    }),
  });
}
