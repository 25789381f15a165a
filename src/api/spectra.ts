/** Spectra of pieces and of known materials, as they travel. */
import { z } from 'zod';

const technique = z.enum(['infrared', 'raman']);

export const KnownSpectrumJson = z
  .object({
    id: z.string(),
    name: z.string(),
    material: z.string(),
    technique,
    by: z.string(),
    at: z.string().describe('ISO 8601, UTC'),
  })
  .meta({ id: 'KnownSpectrum' });
export type KnownSpectrumJson = z.infer<typeof KnownSpectrumJson>;

export const PieceSpectrumJson = z
  .object({
    id: z.string(),
    name: z.string(),
    particle: z.string(),
    number: z.int().positive(),
    photo: z.string(),
    technique,
    answer: z.string().nullable().describe('Family of materials; null: it could not be told.'),
    likeness: z.number().nullable().describe('Mean correlation with the best reference, −1 to 1.'),
    says: z.string().describe('One sentence.'),
    by: z.string(),
    at: z.string().describe('ISO 8601, UTC'),
  })
  .meta({ id: 'PieceSpectrum' });
export type PieceSpectrumJson = z.infer<typeof PieceSpectrumJson>;

export const SpectraAnswer = z
  .object({
    known: z.array(KnownSpectrumJson),
    pieces: z.array(PieceSpectrumJson),
    doubted: z
      .array(z.string())
      .describe('Known materials that the last spectra were not compared with, since they are like others.'),
  })
  .meta({ id: 'Spectra' });
export type SpectraAnswer = z.infer<typeof SpectraAnswer>;

export const UnpackedJson = z
  .object({
    id: z.string(),
    study: z.string(),
    rows: z.int(),
    originals: z.int(),
    same_claim: z.boolean().describe('The claims are those of the packing, digit for digit.'),
  })
  .meta({ id: 'Unpacked' });
export type UnpackedJson = z.infer<typeof UnpackedJson>;
