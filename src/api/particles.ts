/** Contract `retentate/particles/1`: particles on one photograph, as `find --json` and the laboratory give them. */
import { z } from 'zod';
import { COLOURS, SHAPES } from '../science/imaging/finding.ts';
import { RefusalJson } from './refusal.ts';

export const PointPx = z
  .tuple([z.number(), z.number()])
  .describe('x, y in pixels of the upright full-size photo');

export const ScaleJson = z
  .object({
    um_per_px: z.number().positive(),
    relative_uncertainty: z.number().min(0).describe('One standard uncertainty divided by the value.'),
    basis: z.enum(['printed-grid', 'given', 'two-points', 'target']),
    pitch_mm: z.number().positive().nullable(),
    rotation_deg: z.number().nullable(),
    squares: z.int().min(0).nullable().describe('Whole printed squares in view.'),
  })
  .meta({ id: 'Scale' });
export type ScaleJson = z.infer<typeof ScaleJson>;

export const CertaintyJson = z
  .object({
    real: z.number().min(0).max(1).describe('The chance that the find is real.'),
    lightness: z.number().describe('Contrast in lightness, in units of the local noise.'),
    colour: z.number().describe('Contrast in colour, in units of the local noise.'),
    ridge: z.number().describe('Contrast along a thin line, in units of the local noise.'),
  })
  .meta({ id: 'CertaintyBecause' });

export const ParticleJson = z
  .object({
    outline_px: z.array(PointPx),
    centroid_px: PointPx,
    area_px2: z.number().min(0),
    feret_max_px: z.number().min(0),
    feret_min_px: z.number().min(0),
    area_um2: z.number().min(0).nullable().describe('Null where the photo has no scale; so every µm field.'),
    feret_max_um: z.number().min(0).nullable(),
    feret_min_um: z.number().min(0).nullable(),
    equivalent_diameter_um: z.number().min(0).nullable(),
    perimeter_um: z.number().min(0).nullable(),
    circularity: z.number().min(0).max(1),
    solidity: z.number().min(0),
    fibre_length_um: z.number().min(0).nullable(),
    fibre_width_um: z.number().min(0).nullable(),
    shape: z.enum(SHAPES),
    shape_because: z.string(),
    colour: z.enum(COLOURS),
    lab: z.tuple([z.number(), z.number(), z.number()]),
    touches_frame: z.boolean(),
    square: z
      .tuple([z.int(), z.int()])
      .nullable()
      .describe('Column and row of the printed square that counts it.'),
    frame_weight: z.number().describe('Miles–Lantuéjoul weight; 1 where no frame cuts.'),
    certainty: z.number().min(0).max(1),
    certainty_because: CertaintyJson,
  })
  .meta({ id: 'Particle' });
export type ParticleJson = z.infer<typeof ParticleJson>;

/** Null where the file could not be read far enough to know: unknown is not zero. */
export const PhotoFactsJson = z.object({
  name: z.string(),
  sha256: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .nullable(),
  width_px: z.int().positive().nullable().describe('Upright, after the camera’s orientation.'),
  height_px: z.int().positive().nullable(),
});
export type PhotoFactsJson = z.infer<typeof PhotoFactsJson>;

export const FindingJson = z
  .object({
    format: z.literal('retentate/particles/1'),
    photo: PhotoFactsJson,
    method: z.object({ name: z.string(), version: z.string() }).nullable(),
    scale: ScaleJson.nullable(),
    refusal: RefusalJson.nullable(),
    warnings: z.array(RefusalJson),
    searched_fraction: z
      .number()
      .min(0)
      .max(1)
      .nullable()
      .describe('Share of the photo’s area that was searched; null where it could not be.'),
    floor_px: z.number().min(0).nullable().describe('Smallest maximum Feret diameter that was searched for.'),
    floor_um: z.number().min(0).nullable(),
    particles: z.array(ParticleJson),
  })
  .meta({ id: 'Finding' });
export type FindingJson = z.infer<typeof FindingJson>;
