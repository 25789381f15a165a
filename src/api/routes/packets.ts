import { z } from 'zod';
import { AnswersTaken, AnswersWish, PacketMade, PacketWish } from '../packets.ts';
import { id, ofStudy, route } from '../route.ts';

export const PACKET_ROUTES = {
  makePacket: route({
    method: 'post',
    path: '/api/studies/{study}/packets',
    does: 'A packet in one step: a sealed round of the dozen pieces on which the claim hangs most, and known ones, for a reader outside.',
    params: ofStudy,
    body: PacketWish,
    answer: PacketMade,
  }),
  packet: route({
    method: 'get',
    path: '/api/rounds/{round}/packet',
    does: 'A page for an outside reader of a round: self-contained, without a network, without the key.',
    params: z.object({ round: id }),
    query: z.object({ reader: id }),
    answer: 'application/octet-stream',
  }),
  takeAnswers: route({
    method: 'post',
    path: '/api/answers',
    does: 'Take in the answers of an outside reader; locked as soon as all are there.',
    body: AnswersWish,
    answer: AnswersTaken,
  }),
} as const;
