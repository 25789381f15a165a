import { z } from 'zod';

export const PacketWish = z
  .object({ reader: z.string().max(120).describe('Name of the person outside; entered where it is new.') })
  .meta({ id: 'PacketWish' });
export type PacketWish = z.infer<typeof PacketWish>;

export const PacketMade = z
  .object({ round: z.string(), reader: z.string(), name: z.string(), pictures: z.int().min(1) })
  .meta({ id: 'PacketMade' });

export const AnswersWish = z
  .object({ text: z.string().max(900_000).describe('All that the packet shows, or the file it saves.') })
  .meta({ id: 'AnswersWish' });
export type AnswersWish = z.infer<typeof AnswersWish>;

export const AnswersTaken = z
  .object({
    round_id: z.string(),
    round: z.string(),
    reader: z.string(),
    answers: z.int().min(1),
    locked: z.boolean().describe('False when pictures are still unanswered: more may come.'),
  })
  .meta({ id: 'AnswersTaken' });
export type AnswersTaken = z.infer<typeof AnswersTaken>;
