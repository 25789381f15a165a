import { z } from 'zod';

export const PersonJson = z
  .object({ id: z.string(), name: z.string(), initials: z.string() })
  .meta({ id: 'Person' });
export type PersonJson = z.infer<typeof PersonJson>;

export const PeopleAnswer = z
  .object({
    people: z.array(PersonJson),
    working: z.string().describe('Id of the person in whose name this request was made.'),
  })
  .meta({ id: 'People' });
export type PeopleAnswer = z.infer<typeof PeopleAnswer>;

export const PersonWish = z
  .object({ name: z.string().max(200), initials: z.string().max(20).optional() })
  .meta({ id: 'PersonWish' });
export type PersonWish = z.infer<typeof PersonWish>;
