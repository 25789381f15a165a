import { z } from 'zod';

/** What every unanswered request carries: a short fixed code and one sentence that says what, where and what to do. */
export const RefusalJson = z
  .object({
    why: z.string().describe('Short fixed code in kebab-case, for programs.'),
    message: z.string().describe('One clear sentence: what, where, what to do.'),
  })
  .meta({ id: 'Refusal' });
export type RefusalJson = z.infer<typeof RefusalJson>;

export const RefusedAnswer = z.object({ refusal: RefusalJson }).meta({ id: 'RefusedAnswer' });
export type RefusedAnswer = z.infer<typeof RefusedAnswer>;
