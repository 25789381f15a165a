/**
 * Evidence as two invented people would have gathered it: known pieces photographed and drilled on, a blinded round with
 * known pieces slipped in, a random part put to the heated needle. ALL INVENTED; errors are seeded.
 */
import path from 'node:path';
import {
  addKnownSet,
  answerBenchTest,
  answerDrill,
  drawSubset,
  findOnPhoto,
  importPhoto,
  layFilter,
  lockReadings,
  openRound,
  predictRound,
  readCards,
  recordRun,
  sealRound,
  type Tools,
  takeRoundOver,
} from '../../src/actions/index.ts';
import { orderFor } from '../../src/science/evidence/index.ts';
import type {
  AsGiven,
  BlindRound,
  Edition,
  KnownPiece,
  KnownSet,
  ParticleId,
  ParticleRecord,
  Person,
  Study,
} from '../../src/study/index.ts';
import type { Outcome } from '../../src/units/index.ts';
import { type Chance, chanceFrom } from '../drawing/chance.ts';
import { writePhoto } from '../drawing/photo-file.ts';
import { drawPhotograph } from '../drawing/photograph.ts';
import type { PhotoTruth, TruePiece } from '../drawing/truth.ts';
import { recipeFor } from '../photographs/recipe.ts';
import { pieceUnder } from './invented-marks.ts';
import { DAYS } from './story.ts';

export interface EvidenceOrder {
  readonly study: Study;
  readonly edition: Edition;
  readonly optics: string;
  readonly people: readonly [Person, Person];
  readonly folder: string;
  /** What truly lies on each photograph, by the photograph's id. */
  readonly truths: ReadonlyMap<string, PhotoTruth>;
}

function must<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(`the example's evidence: ${outcome.refusal.message}`);
}

/** Known pieces: so many of each kind are drawn. */
const KNOWN = { synthetic: 26, tissue: 26 } as const;
/** Pictures of each side in the round. */
const MOST_OF_EACH = 45;
const SUBSET = 30;
const SEED = 20_260_320;

/** How often each invented scorer calls a plastic plastic, and another thing plastic. */
const SKILL = [
  [0.95, 0.06],
  [0.9, 0.1],
] as const;
/** The heated needle in Mara's hand. */
const NEEDLE = [0.94, 0.05] as const;

export async function addInventedEvidence(tools: Tools, order: EvidenceOrder): Promise<void> {
  const known = await knownPieces(tools, order);
  await drills(tools, order, known.set, known.truth);
  await blindedRound(tools, order, known);
  await needle(tools, order);
}

interface Known {
  readonly set: KnownSet;
  /** Whether a particle is plastic. */
  readonly truth: ReadonlyMap<string, boolean>;
}

/** Draws a photograph of known pieces, lays it into the laboratory, and names every piece that was found on it. */
async function knownPieces(
  tools: Tools,
  { study, edition, optics, people, folder }: EvidenceOrder,
): Promise<Known> {
  const [mara] = people;
  const file = path.join(folder, 'known-1.jpg');
  const drawn = drawPhotograph(
    recipeFor(
      {
        name: 'known-1',
        run: 'known-1',
        kind: 'worn-board',
        session: 3,
        synthetic: KNOWN.synthetic,
        spiked: null,
        tissue: KNOWN.tissue,
        passed: 1,
        clogged: false,
        handle: 'blue',
      },
      SEED,
    ),
  );
  await writePhoto(file, drawn);
  const run = must(
    await recordRun(tools, {
      study: study.id,
      edition: edition.id,
      kind: 'known-material',
      name: 'known-1',
      portion: null,
      spike: null,
      day: DAYS[3],
      session: 'session 3',
      by: mara.id,
      note: 'Known pieces, laid out to learn on. Invented.',
    }),
  );
  const filter = must(
    await layFilter(tools, {
      run: run.id,
      fraction: null,
      name: 'known-1',
      material: 'cellulose nitrate, white, printed squares',
      poreUm: 20,
      effectiveDiameterMm: 9,
      pitchMm: 3.1,
      lot: 'F-7',
      examinedStated: null,
      note: '',
    }),
  );
  const { photo } = must(
    await importPhoto(tools, {
      filter: filter.id,
      source: { path: file },
      name: 'known-1.jpg',
      by: mara.id,
      optics,
    }),
  );
  const { finding } = must(await findOnPhoto(tools, { photo: photo.id }));
  const particles = await tools.records.look((look) => look.particles.ofFinding(finding.id));
  const pieces: AsGiven<KnownPiece>[] = [];
  const truth = new Map<string, boolean>();
  const taken = new Set<number>();
  for (const particle of particles) {
    const piece = pieceUnder(particle, drawn.truth);
    if (!piece || taken.has(piece.id) || (particle.feretMaxUm ?? 0) < 100) continue;
    taken.add(piece.id);
    const plastic = piece.origin === 'synthetic';
    pieces.push(knownPiece(particle, piece, `K${pieces.length + 1}`));
    truth.set(particle.id, plastic);
  }
  const set = must(
    await addKnownSet(tools, {
      study: study.id,
      name: 'Known pieces, March',
      made: 'Shavings of the board and of a lunch box, threads of fleece; dried carrot skin crushed, cotton lint. Invented.',
      pieces,
      by: mara.id,
    }),
  );
  return { set, truth };
}

const MATERIAL = {
  synthetic: 'polyethylene or polyester',
  plant: 'carrot tissue',
  dust: 'cotton lint',
} as const;
const CLASS = { synthetic: 'thermoplastic', plant: 'plant-tissue', dust: 'natural-fibre' } as const;

const knownPiece = (particle: ParticleRecord, piece: TruePiece, key: string): AsGiven<KnownPiece> => ({
  key,
  material: MATERIAL[piece.origin],
  class: CLASS[piece.origin],
  shape: particle.shapeNow,
  colour: particle.colourNow,
  sizeUm: particle.feretMaxUm,
  particle: particle.id,
});

type Skill = readonly [plastic: number, others: number];
const called = (chance: Chance, plastic: boolean, [kept, wrong]: Skill): string =>
  chance.yes(0.02) ? 'cannot-tell' : chance.yes(plastic ? kept : wrong) ? 'plastic' : 'other';

async function drills(
  tools: Tools,
  { people }: EvidenceOrder,
  set: KnownSet,
  truth: Known['truth'],
): Promise<void> {
  const said = (skill: Skill, seed: string) => {
    const chance = chanceFrom(SEED, seed);
    return set.pieces.map((piece) => ({
      piece: piece.key,
      called: called(chance, truth.get(piece.particle ?? '') ?? false, skill),
    }));
  };
  for (const [at, person] of people.entries()) {
    must(
      await answerDrill(tools, {
        set: set.id,
        test: 'by-eye',
        answers: said(SKILL[at]!, `drill ${person.name}`),
        by: person.id,
      }),
    );
  }
  must(
    await answerDrill(tools, {
      set: set.id,
      test: 'heated-needle',
      answers: said(NEEDLE, 'drill needle'),
      by: people[0].id,
    }),
  );
}

async function isPlastic(
  tools: Tools,
  { truths }: EvidenceOrder,
  known: Known['truth'],
): Promise<(particle: ParticleId) => Promise<boolean>> {
  return async (id) => {
    const own = known.get(id);
    if (own !== undefined) return own;
    const particle = await tools.records.look((look) => look.particles.get(id));
    const truth = particle && truths.get(particle.photo);
    return particle && truth ? pieceUnder(particle, truth)?.origin === 'synthetic' : false;
  };
}

async function blindedRound(tools: Tools, order: EvidenceOrder, known: Known): Promise<void> {
  const { study, people } = order;
  const [mara, jonas] = people;
  const round = must(
    await sealRound(tools, {
      study: study.id,
      name: 'Round 1 (invented)',
      what: 'pieces',
      scorers: [mara.id, jonas.id],
      third: null,
      knownSet: known.set.id,
      mostOfEach: MOST_OF_EACH,
      guessShare: 0.3,
      againShare: 0.1,
      seed: SEED,
      by: mara.id,
    }),
  );
  const plastic = await isPlastic(tools, order, known.truth);
  const truth = new Map<string, boolean>();
  for (const card of round.key)
    truth.set(card.code, card.particle !== null && (await plastic(card.particle)));
  for (const [at, person] of people.entries()) {
    must(
      await readCards(tools, {
        round: round.id,
        by: person.id,
        readings: readingsOf(round, person, truth, SKILL[at]!),
      }),
    );
    must(await lockReadings(tools, { round: round.id, by: person.id }));
  }
  must(
    await predictRound(tools, {
      round: round.id,
      says: 'About three times as many on the worn board as in the controls.',
      by: jonas.id,
    }),
  );
  must(await openRound(tools, { round: round.id, withoutThird: false, by: mara.id }));
  must(await takeRoundOver(tools, { round: round.id, by: mara.id }));
}

function readingsOf(round: BlindRound, person: Person, truth: ReadonlyMap<string, boolean>, skill: Skill) {
  const chance = chanceFrom(SEED, `round ${person.name}`);
  const cards = new Map(round.key.map((card) => [card.code, card]));
  return orderFor(round.key, round.seed, person.id).map(({ code, pass }) => ({
    code,
    pass,
    called: called(chance, truth.get(code) ?? false, skill),
    points: null,
    // the pictures tell them nothing
    guess: pass === 1 && cards.get(code)!.guess ? (chance.yes(0.5) ? 'specimen' : 'control') : null,
  }));
}

async function needle(tools: Tools, order: EvidenceOrder): Promise<void> {
  const { study, people } = order;
  const subset = must(
    await drawSubset(tools, {
      study: study.id,
      name: 'Thirty by heated needle (invented)',
      test: 'heated-needle',
      pieces: SUBSET,
      seed: SEED,
      by: people[0].id,
    }),
  );
  const plastic = await isPlastic(tools, order, new Map());
  const chance = chanceFrom(SEED, 'needle');
  for (const particle of subset.strata.flatMap((stratum) => stratum.drawn)) {
    const truly = await plastic(particle);
    const melts = chance.yes(truly ? NEEDLE[0] : NEEDLE[1]);
    must(
      await answerBenchTest(tools, {
        particle,
        test: 'heated-needle',
        value: chance.yes(0.03) ? 'moved-by-air' : melts ? (chance.yes(0.7) ? 'melts' : 'curls') : 'chars',
        setting: 'tip-350',
        before: null,
        after: null,
        onGlass: true,
        note: '',
        by: people[0].id,
      }),
    );
  }
}
