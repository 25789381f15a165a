/** Sealing a blinded round: which pictures, under which codes, turned how; drawn once, hashed, and not shown. */
import { drawCards } from '../science/evidence/index.ts';
import { type Chance, chanceFrom, drawBelow, shuffled } from '../science/maths/index.ts';
import {
  type BlindRound,
  type CardSide,
  isSynthetic,
  type KeyCard,
  type KnownSet,
  makeBlindRound,
  type RoundOf,
  type Study,
  sealOf,
} from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { candidatesOf, sideOf } from './candidates.ts';
import { type Moves, movesOf, worthOfAnEye } from './claim-movers.ts';
import { countStudy } from './count-runs.ts';
import { judgedRuns } from './judged-runs.ts';
import { asId, known, nameFree } from './known.ts';
import type { Desk, Look, Tools } from './ports.ts';
import { freshSeed } from './seed.ts';

export interface RoundWish {
  readonly study: string;
  readonly name: string;
  readonly what: RoundOf;
  readonly scorers: readonly string[];
  readonly third: string | null;
  /** Known pieces to slip in; null: none. */
  readonly knownSet: string | null;
  /** Most pictures of specimen runs, and as many of controls; null: all pieces. Fields need a number. */
  readonly mostOfEach: number | null;
  /** With a limit: the pieces on which the claim hangs most instead of a draw by chance; shares found on them hold for them alone. */
  readonly decisive?: boolean;
  readonly guessShare: number;
  readonly againShare: number;
  readonly seed?: number;
  readonly by: string;
}

type Picture = Omit<KeyCard, 'code' | 'turnDeg' | 'mirrored' | 'guess' | 'again'>;

/** How much is shown around a piece, as a part of its length, within limits that hide how large it is at a glance. */
const AROUND = 2.4;
const LEAST_UM = 400;
const MOST_UM = 8000;
const FIELD_UM = 1600;

/** One random draw, written down with its seed: the code, turn and order of every picture follow from it. */
export const sealRound = (
  { records, clock, names }: Pick<Tools, 'records' | 'clock' | 'names'>,
  wish: RoundWish,
): Promise<Outcome<BlindRound>> =>
  records.change(async (desk) => {
    const study = await known(desk.studies.get(asId(wish.study)), 'study', wish.study);
    if (!study.ok) return study;
    const free = nameFree(wish.name, await desk.rounds.ofStudy(study.value.id), 'round');
    if (!free.ok) return free;
    for (const person of [...wish.scorers, wish.third, wish.by]) {
      if (person === null) continue;
      const there = await known(desk.people.get(asId(person)), 'person', person);
      if (!there.ok) return there;
    }
    const seed = wish.seed ?? freshSeed(names);
    const pictures = await picturesOf(desk, study.value, wish, seed);
    if (!pictures.ok) return pictures;
    const shares = { guess: wish.guessShare, again: wish.againShare };
    const key = drawCards(pictures.value.length, shares, seed).map(({ of, ...card }) => ({
      ...card,
      ...pictures.value[of]!,
    }));
    const id = names.next<'round'>();
    const made = makeBlindRound({
      id,
      study: study.value.id,
      name: wish.name,
      what: wish.what,
      scorers: wish.scorers,
      third: wish.third,
      knownSet: wish.knownSet,
      guessShare: wish.guessShare,
      againShare: wish.againShare,
      seed,
      key,
      keyHash: sealOf({ id, seed, key }),
      by: wish.by,
      at: clock.now(),
    });
    if (made.ok) await desk.rounds.add(made.value);
    return made;
  });

async function picturesOf(
  desk: Desk,
  study: Study,
  wish: RoundWish,
  seed: number,
): Promise<Outcome<readonly Picture[]>> {
  const chance = chanceFrom(seed + 1);
  const own =
    wish.what === 'fields'
      ? await fieldsOf(desk, study, wish, chance)
      : await piecesOf(desk, study, wish, chance);
  if (!own.ok) return own;
  const slipped = await knownPictures(desk, wish, own.value.length, chance);
  if (!slipped.ok) return slipped;
  const all = [...own.value, ...slipped.value];
  const side = (of: CardSide) => all.some((picture) => picture.side === of);
  if (!side('specimen') || !side('control')) {
    return refused({
      why: 'one-side-only',
      message: `round “${wish.name}”: pictures of specimen runs and of controls are both needed, or there is nothing to be blind to; search photographs of both first.`,
    });
  }
  return done(all);
}

/** Where nothing is judged yet, a piece of either side weighs alike. */
const ALIKE: Moves = { specimens: { out: 1, in: 1 }, controls: { out: 1, in: 1 } };

const clamped = (um: number): number => Math.min(MOST_UM, Math.max(LEAST_UM, um));

const PICTURED_BY = ['id', 'centroidPx', 'feretMaxPx', 'certainty'] as const;

async function piecesOf(
  look: Look,
  study: Study,
  wish: RoundWish,
  chance: Chance,
): Promise<Outcome<readonly Picture[]>> {
  const counted = await countStudy(look, study);
  const judged = judgedRuns(counted);
  const moves = wish.decisive ? movesOf(counted) : null;
  const worth = new Map<string, number>();
  const pictures = (await candidatesOf(look, study, PICTURED_BY)).flatMap(
    ({ particle, photo, run, side, umPerPx }): Picture[] => {
      if (side === null || umPerPx === null || (judged && !judged.has(run.id))) return [];
      worth.set(particle.id, worthOfAnEye(particle, side, moves ?? ALIKE));
      const widthUm = clamped(AROUND * particle.feretMaxPx * umPerPx);
      return [
        {
          particle: particle.id,
          photo,
          centrePx: particle.centroidPx,
          widthPx: widthUm / umPerPx,
          widthUm,
          side: side === 'specimens' ? 'specimen' : 'control',
          piece: null,
        },
      ];
    },
  );
  const of = (side: CardSide): readonly Picture[] => {
    const mine = [
      ...shuffled(
        chance,
        pictures.filter((picture) => picture.side === side),
      ),
    ];
    if (wish.decisive) mine.sort((a, b) => worth.get(b.particle!)! - worth.get(a.particle!)!);
    return wish.mostOfEach === null ? mine : mine.slice(0, wish.mostOfEach);
  };
  return done([...of('specimen'), ...of('control')]);
}

/** Windows laid at random on searched photographs, wherever they fall: empty ones belong to it. */
async function fieldsOf(
  look: Look,
  study: Study,
  wish: RoundWish,
  chance: Chance,
): Promise<Outcome<readonly Picture[]>> {
  if (wish.mostOfEach === null) {
    return refused({
      why: 'how-many',
      message: `round “${wish.name}”: say how many fields of each side are to be looked at.`,
    });
  }
  const runs = new Map((await look.runs.ofStudy(study.id)).map((run) => [run.id, sideOf(run)]));
  const homes = new Map(
    (await look.filters.ofStudy(study.id)).map((one) => [one.id, runs.get(one.run) ?? null]),
  );
  const lines = await look.photos.linesOfStudy(study.id);
  const out: Picture[] = [];
  for (const side of ['specimens', 'controls'] as const) {
    const photos = [];
    for (const line of lines.filter((one) => one.refusal === null && homes.get(one.filter) === side)) {
      const finding = line.finding && (await look.findings.get(line.finding));
      if (finding?.scale) photos.push({ line, umPerPx: finding.scale.umPerPx });
    }
    for (let i = 0; photos.length > 0 && i < wish.mostOfEach; i++) {
      const { line, umPerPx } = photos[drawBelow(chance, photos.length)]!;
      const widthPx = Math.min(FIELD_UM / umPerPx, line.widthPx, line.heightPx);
      const within = (length: number): number => widthPx / 2 + chance.uniform() * (length - widthPx);
      out.push({
        particle: null,
        photo: line.id,
        centrePx: [within(line.widthPx), within(line.heightPx)],
        widthPx,
        widthUm: widthPx * umPerPx,
        side: side === 'specimens' ? 'specimen' : 'control',
        piece: null,
      });
    }
  }
  return done(out);
}

/**
 * Known pieces that are particles on photographs; others cannot be slipped in. In a round with a limit as many, drawn by
 * chance, as make about a third of all pictures: more would tire the reader, fewer tell nothing of them.
 */
async function knownPictures(
  look: Look,
  wish: RoundWish,
  own: number,
  chance: Chance,
): Promise<Outcome<readonly Picture[]>> {
  if (wish.knownSet === null || wish.what === 'fields') return done([]);
  const set = await known(look.knownSets.get(asId(wish.knownSet)), 'set of known pieces', wish.knownSet);
  if (!set.ok) return set;
  const out: Picture[] = [];
  for (const piece of set.value.pieces) {
    const particle = piece.particle && (await look.particles.get(piece.particle));
    if (!particle) continue;
    const umPerPx = particle.feretMaxUm === null ? null : particle.feretMaxUm / particle.feretMaxPx;
    const widthUm = umPerPx === null ? null : clamped(AROUND * particle.feretMaxUm!);
    out.push({
      particle: particle.id,
      photo: particle.photo,
      centrePx: particle.centroidPx,
      widthPx: widthUm === null || umPerPx === null ? AROUND * particle.feretMaxPx : widthUm / umPerPx,
      widthUm,
      side: 'known',
      piece: piece.key,
    });
  }
  if (out.length === 0) {
    return refused({
      why: 'none-on-photographs',
      message: `round “${wish.name}”: no piece of the set “${set.value.name}” is on a photograph, so none can be slipped in; photograph the pieces first.`,
    });
  }
  return done(wish.mostOfEach === null ? out : bothKinds(out, set.value, Math.ceil(own / 2), chance));
}

/** So many of them by chance, plastics and look-alikes in turns, so that both are among them. */
function bothKinds(
  pictures: readonly Picture[],
  set: KnownSet,
  most: number,
  chance: Chance,
): readonly Picture[] {
  const classOf = new Map(set.pieces.map((piece) => [piece.key, piece.class]));
  const of = (synthetic: boolean) =>
    shuffled(
      chance,
      pictures.filter(({ piece }) => isSynthetic(classOf.get(piece!)!) === synthetic),
    );
  const [plastics, others] = [of(true), of(false)];
  const turns = Array.from({ length: Math.max(plastics.length, others.length) }, (_, at) =>
    [plastics[at], others[at]].filter((one) => one !== undefined),
  );
  return turns.flat().slice(0, most);
}
