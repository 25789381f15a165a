/** What the routes of blinded rounds do. */
import type { Context } from 'hono';
import {
  cardBehind,
  cardToScore,
  lockReadings,
  openRound,
  predictRound,
  readCard,
  sealRound,
  takeRoundOver,
} from '../actions/index.ts';
import type { OpenWish, PredictionWish, ReadingWish, ROUND_ROUTES, RoundWish } from '../api/index.ts';
import type { Outcome } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { missing } from './evidence-views.ts';
import { roundView } from './round-views.ts';
import type { Served } from './served.ts';

/** The picture behind a code. Its address holds the code alone, its bytes no word of where it comes from. */
async function picture(served: Served, c: Context): Promise<Response> {
  const card = await cardBehind(served, {
    round: part(c, 'round'),
    code: part(c, 'code'),
    person: served.person,
  });
  if (!card.ok) return answered(c, card);
  const { photo: id, ...cut } = card.value;
  const photo = await served.records.look((look) => look.photos.get(id));
  if (!photo) return answered(c, missing('picture', part(c, 'code')));
  const made = await served.files.withFile(photo.sha256, (path) => served.tiles.blind(path, cut));
  if (!made.ok) return answered(c, made);
  return c.body(made.value as Uint8Array<ArrayBuffer>, 200, {
    'content-type': 'image/jpeg',
    'cache-control': 'private, max-age=86400, immutable',
  });
}

export const roundAnswers = (served: Served): Readonly<Record<keyof typeof ROUND_ROUTES, Answering>> => {
  /** After a deed the round is told anew, as whoever works may see it. */
  const then = async (
    c: Context,
    deed: Promise<Outcome<{ readonly round?: string; readonly id: string }>>,
  ) => {
    const outcome = await deed;
    if (!outcome.ok) return answered(c, outcome);
    return answered(c, await roundView(served, outcome.value.round ?? outcome.value.id));
  };
  const by = served.person;
  return {
    sealRound: (c) => {
      const wish = valid<RoundWish>(c, 'json');
      return then(
        c,
        sealRound(served, {
          study: part(c, 'study'),
          name: wish.name,
          what: wish.what,
          scorers: wish.scorers,
          third: wish.third,
          knownSet: wish.known_set,
          mostOfEach: wish.most_of_each,
          decisive: wish.decisive,
          guessShare: wish.guess_share,
          againShare: wish.again_share,
          by,
        }).then((made) => (made.ok ? { ok: true as const, value: { id: made.value.id } } : made)),
      );
    },
    round: async (c) => answered(c, await roundView(served, part(c, 'round'))),
    scoring: async (c) => {
      const { place } = valid<{ place?: string }>(c, 'query');
      const at = place === undefined ? null : Number(place);
      const shown = await cardToScore(served, { round: part(c, 'round'), person: by, place: at });
      const card = shown.ok ? shown.value.card : null;
      const after =
        card && card.place < card.of
          ? await cardToScore(served, { round: part(c, 'round'), person: by, place: card.place + 1 })
          : null;
      return answered(c, shown, ({ progress, card: now }) => ({
        progress: { done: progress.done, of: progress.of, locked: progress.locked },
        card: now && {
          code: now.code,
          what: now.what,
          pass: now.pass,
          guess: now.guess,
          width_um: now.widthUm,
          place: now.place,
          of: now.of,
          before: now.before && { ...now.before, points: now.before.points && [...now.before.points] },
        },
        next_code: after?.ok ? (after.value.card?.code ?? null) : null,
      }));
    },
    blindPicture: (c) => picture(served, c),
    readCard: async (c) => {
      const wish = valid<ReadingWish>(c, 'json');
      return answered(c, await readCard(served, { ...wish, round: part(c, 'round'), by }), ({ id }) => ({
        id,
      }));
    },
    predictRound: (c) =>
      then(
        c,
        predictRound(served, { round: part(c, 'round'), says: valid<PredictionWish>(c, 'json').says, by }),
      ),
    lockRound: async (c) =>
      answered(c, await lockReadings(served, { round: part(c, 'round'), by }), () => ({ done: true })),
    openRound: (c) =>
      then(
        c,
        openRound(served, {
          round: part(c, 'round'),
          withoutThird: valid<OpenWish>(c, 'json').without_third,
          by,
        }),
      ),
    takeRoundOver: async (c) =>
      answered(
        c,
        await takeRoundOver(served, { round: part(c, 'round'), by }),
        ({ event: _, ...told }) => told,
      ),
  };
};
