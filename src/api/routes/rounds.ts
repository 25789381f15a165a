import { z } from 'zod';
import { DoneAnswer } from '../accounts.ts';
import { RecordId } from '../evidence.ts';
import {
  OpenWish,
  PredictionWish,
  ReadingWish,
  RoundJson,
  RoundWish,
  ScoringJson,
  TakenOverJson,
} from '../rounds.ts';
import { id, ofStudy, route } from '../route.ts';

const ofRound = z.object({ round: id });
const code = z.string().regex(/^[A-Z0-9]{2,12}$/, 'not a code');

export const ROUND_ROUTES = {
  sealRound: route({
    method: 'post',
    path: '/api/studies/{study}/rounds',
    does: 'Seal a round of scoring without knowing: a random draw whose key is hashed and not shown.',
    params: ofStudy,
    body: RoundWish,
    answer: RoundJson,
  }),
  round: route({
    method: 'get',
    path: '/api/rounds/{round}',
    does: 'A round: how far it is, and once it is open what it found.',
    params: ofRound,
    answer: RoundJson,
  }),
  scoring: route({
    method: 'get',
    path: '/api/rounds/{round}/scoring',
    does: 'The next picture of whoever is working, by its neutral code; nothing of where it comes from.',
    params: ofRound,
    query: z.object({
      place: z
        .string()
        .regex(/^[0-9]{1,6}$/)
        .optional(),
    }),
    answer: ScoringJson,
  }),
  blindPicture: route({
    method: 'get',
    path: '/api/rounds/{round}/pictures/{code}',
    does: 'The picture behind a code: cut round, turned, its ground evened, without a word in it.',
    params: ofRound.extend({ code }),
    answer: 'image/jpeg',
  }),
  readCard: route({
    method: 'post',
    path: '/api/rounds/{round}/readings',
    does: 'A reading of one picture; the last one before the lock stands.',
    params: ofRound,
    body: ReadingWish,
    answer: RecordId,
  }),
  predictRound: route({
    method: 'post',
    path: '/api/rounds/{round}/predictions',
    does: 'Say beforehand what the opening will show.',
    params: ofRound,
    body: PredictionWish,
    answer: RoundJson,
  }),
  lockRound: route({
    method: 'post',
    path: '/api/rounds/{round}/lock',
    does: 'Lock the readings of whoever is working.',
    params: ofRound,
    // Nothing of the round itself: whoever scores alone is not to read it.
    answer: DoneAnswer,
  }),
  openRound: route({
    method: 'post',
    path: '/api/rounds/{round}/open',
    does: 'Open the key, once; an appended record.',
    params: ofRound,
    body: OpenWish,
    answer: RoundJson,
  }),
  takeRoundOver: route({
    method: 'post',
    path: '/api/rounds/{round}/take-over',
    does: 'Write what an opened round found as marks on its pieces.',
    params: ofRound,
    answer: TakenOverJson,
  }),
} as const;
