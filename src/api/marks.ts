import { z } from 'zod';
import { COLOURS, SHAPES } from '../science/imaging/finding.ts';
import { MarkedParticleJson } from './photos.ts';

const onParticles = { particles: z.array(z.string()).min(1).max(10_000) };

/** A person's decision on particles of one photo. Marks are appended, never changed; undo appends too. */
export const MarkWish = z
  .discriminatedUnion('deed', [
    z.object({ deed: z.literal('keep'), ...onParticles }),
    z.object({ deed: z.literal('drop'), ...onParticles }),
    z.object({ deed: z.literal('class'), ...onParticles, shape: z.enum(SHAPES) }),
    z.object({ deed: z.literal('colour'), ...onParticles, colour: z.enum(COLOURS) }),
  ])
  .meta({ id: 'MarkWish' });
export type MarkWish = z.infer<typeof MarkWish>;

export const MarkJson = z
  .object({
    id: z.string(),
    photo: z.string(),
    particles: z.array(z.string()),
    deed: z.string(),
    by: z.string(),
    at: z.string().describe('ISO 8601, UTC'),
    undone: z.boolean(),
  })
  .meta({ id: 'Mark' });
export type MarkJson = z.infer<typeof MarkJson>;

/** The mark and the particles as they stand after it; read the standing anew for the claim. */
export const MarkAnswer = z
  .object({ mark: MarkJson, particles: z.array(MarkedParticleJson) })
  .meta({ id: 'MarkAnswer' });
export type MarkAnswer = z.infer<typeof MarkAnswer>;

export const MarksAnswer = z.object({ marks: z.array(MarkJson) }).meta({ id: 'Marks' });
export type MarksAnswer = z.infer<typeof MarksAnswer>;
