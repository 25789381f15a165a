import { z } from 'zod';
import { COLOURS, SHAPES } from '../science/imaging/finding.ts';
import { PointPx } from './particles.ts';
import { MarkedParticleJson } from './photos.ts';

/** More corners than a hand sets; a finger drawn across a tablet gives some hundreds. */
const outline = z.array(PointPx).min(3).max(5_000);
const onParticles = { particles: z.array(z.string()).min(1).max(10_000) };

/** A person's decision on particles of one photo. Marks are appended, never changed; undo appends too. */
export const MarkWish = z
  .discriminatedUnion('deed', [
    z.object({ deed: z.literal('keep'), ...onParticles }),
    z.object({ deed: z.literal('drop'), ...onParticles }),
    z.object({ deed: z.literal('class'), ...onParticles, shape: z.enum(SHAPES) }),
    z.object({ deed: z.literal('colour'), ...onParticles, colour: z.enum(COLOURS) }),
    z.object({
      deed: z.literal('split'),
      particles: z.array(z.string()).length(1),
      cut: z.tuple([PointPx, PointPx]).nullable().describe('A line across the piece; null: at its necks.'),
    }),
    z.object({ deed: z.literal('merge'), particles: z.array(z.string()).min(2).max(100) }),
    z.object({ deed: z.literal('redraw'), particles: z.array(z.string()).length(1), outline }),
    z.object({
      deed: z.literal('draw').describe('A piece that the program did not find.'),
      particles: z.array(z.string()).length(0),
      outline,
      shape: z.enum(SHAPES),
      colour: z.enum(COLOURS),
    }),
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
  .object({
    mark: MarkJson,
    particles: z.array(MarkedParticleJson),
    gone: z.array(z.string()).describe('Particles that gave way to others by this mark.'),
  })
  .meta({ id: 'MarkAnswer' });
export type MarkAnswer = z.infer<typeof MarkAnswer>;

export const MarksAnswer = z.object({ marks: z.array(MarkJson) }).meta({ id: 'Marks' });
export type MarksAnswer = z.infer<typeof MarksAnswer>;
