import { z } from 'zod';
import { CONTROL_KINDS } from '../study/index.ts';
import { ParticleJson, ScaleJson } from './particles.ts';
import { RefusalJson } from './refusal.ts';
import { CountJson } from './runs.ts';

/** Pyramid of square JPEG tiles. Level 0 is one tile; the last level is the full size. */
export const TilesJson = z
  .object({
    width_px: z.int().positive(),
    height_px: z.int().positive(),
    tile_px: z.int().positive(),
    levels: z.int().positive(),
  })
  .meta({ id: 'Tiles' });
export type TilesJson = z.infer<typeof TilesJson>;

/** Side of a tile. */
export const TILE_PX = 512;

/** The pyramid of an upright photo: halved (rounded up) until one tile holds it. */
export function tilesOf(widthPx: number, heightPx: number): TilesJson {
  let levels = 1;
  for (let longest = Math.max(widthPx, heightPx); longest > TILE_PX; longest = Math.ceil(longest / 2))
    levels++;
  return { width_px: widthPx, height_px: heightPx, tile_px: TILE_PX, levels };
}

export const PhotoJson = z
  .object({
    id: z.string(),
    filter: z.string(),
    name: z.string(),
    sha256: z.string(),
    width_px: z.int().positive(),
    height_px: z.int().positive(),
    added_at: z.string().describe('ISO 8601, UTC'),
    state: z
      .enum(['waiting', 'searching', 'searched', 'refused', 'stopped'])
      .describe('stopped: not searched, because somebody stopped it before it was begun.'),
    refusal: RefusalJson.nullable(),
    warnings: z.array(RefusalJson),
    scale: ScaleJson.nullable(),
    floor_um: z.number().min(0).nullable(),
    searched_fraction: z.number().min(0).max(1).nullable().describe('Null until the photo was searched.'),
    particles: z
      .int()
      .min(0)
      .nullable()
      .describe('Null until the photo was searched: not looked is never zero.'),
    kept: z.int().min(0).nullable(),
    undecided: z.int().min(0).nullable(),
    tiles: TilesJson,
  })
  .meta({ id: 'Photo' });
export type PhotoJson = z.infer<typeof PhotoJson>;

export const FilterJson = z
  .object({
    id: z.string(),
    name: z.string(),
    run: z.object({ id: z.string(), name: z.string(), kind: z.enum(['specimen-run', ...CONTROL_KINDS]) }),
    material: z.string(),
    pore_um: z.number().positive().nullable(),
    effective_diameter_mm: z.number().positive().nullable(),
    pitch_mm: z
      .number()
      .positive()
      .nullable()
      .describe('Distance of the printed lines; null for a filter without print.'),
    lot: z.string().nullable(),
    examined: z.number().min(0).max(1),
    count: CountJson,
    scope: z
      .object({
        from_um: z.number(),
        to_um: z.number().nullable(),
        some: z.boolean().describe('True where the question is about some shapes or colours only.'),
      })
      .describe('What the count holds: other pieces are found and marked, and not in it.'),
    together: z
      .object({
        photos: z.array(z.string()).describe('Photos of this filter that show some of the same pieces.'),
        seen_again: z.int().min(0).describe('Pieces in scope that count on another photo.'),
        apart: z.boolean().describe('Somebody wants each photo counted for itself.'),
        by: z.string().nullable().describe('Who said so; null where nobody did.'),
      })
      .nullable()
      .describe('Null where no two photos overlap.'),
    photos: z.array(PhotoJson),
  })
  .meta({ id: 'Filter' });
export type FilterJson = z.infer<typeof FilterJson>;

export const FiltersAnswer = z.object({ filters: z.array(FilterJson) }).meta({ id: 'Filters' });
export type FiltersAnswer = z.infer<typeof FiltersAnswer>;

/** A photo that was brought in. `known` is true where the same original was already on this filter. */
export const PhotoAdded = z.object({ photo: PhotoJson, known: z.boolean() }).meta({ id: 'PhotoAdded' });
export type PhotoAdded = z.infer<typeof PhotoAdded>;

export const ApartWish = z
  .object({
    apart: z.boolean().describe('True: each photo counts for itself; false: what two show counts once.'),
  })
  .meta({ id: 'CountApart' });
export type ApartWish = z.infer<typeof ApartWish>;

export const DECISIONS = ['kept', 'dropped', 'undecided'] as const;

export const MarkedParticleJson = ParticleJson.extend({
  id: z.string(),
  number: z.int().positive().describe('Number within its photo, from 1, top to bottom.'),
  decision: z.enum(DECISIONS).describe('What the last mark says; undecided counts as found.'),
  counts_on: z
    .object({ photo: z.string(), particle: z.string(), number: z.int().positive() })
    .nullable()
    .describe('The same piece on an overlapping photo, where it counts; null: it counts here or nowhere.'),
  counts: z.boolean().describe('Whether the particle is in the count of its run.'),
  disagree: z
    .array(z.object({ by: z.string(), decision: z.enum(['kept', 'dropped']), at: z.string() }))
    .describe(
      'What each person last called it where people differ, oldest first: the last stands. Else empty.',
    ),
}).meta({ id: 'MarkedParticle' });
export type MarkedParticleJson = z.infer<typeof MarkedParticleJson>;

export const ParticlesAnswer = z
  .object({ photo: z.string(), particles: z.array(MarkedParticleJson) })
  .meta({ id: 'ParticlesOfPhoto' });
export type ParticlesAnswer = z.infer<typeof ParticlesAnswer>;
