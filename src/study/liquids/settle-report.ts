/** `retentate/settle/1`: what has settled, what floats and what is still in between, as a plain object with units in the names. */
import {
  type Liquid,
  type MapCell,
  type Material,
  type PieceShape,
  settlingMap,
} from '../../science/fluids/index.ts';

export interface SettleWish {
  readonly liquid: Liquid & { readonly name: string };
  readonly heightMm: number;
  readonly afterS: number;
  readonly shape: PieceShape;
  readonly sizesUm: readonly number[];
  readonly materials: readonly Material[];
}

export interface SettleCell {
  readonly size_um: number;
  /** At the lowest and highest printed density; above 0 it sinks. */
  readonly velocity_mm_s: readonly [number, number];
  /** Null: some printed density does not move, or they part ways. */
  readonly clears_in_s: number | null;
  readonly sediment: readonly [number, number];
  readonly floating: readonly [number, number];
  readonly verdict: MapCell['verdict'];
  readonly holds: boolean;
}

export interface SettleReport {
  readonly format: 'retentate/settle/1';
  readonly liquid: {
    readonly name: string;
    readonly density_kg_m3: number;
    readonly viscosity_mpa_s: number;
  };
  readonly height_mm: number;
  readonly after_s: number;
  readonly shape: PieceShape;
  readonly materials: readonly {
    readonly code: string;
    readonly name: string;
    readonly density_g_ml: readonly [number, number];
    readonly density_seen: Material['seen'];
    readonly sizes: readonly SettleCell[];
  }[];
  readonly cautions: readonly string[];
  readonly sources: readonly string[];
}

export const SETTLE_CAUTIONS = [
  'Examine sediment and upper liquid as two fractions, or neither: what settles out is missing from what is poured off.',
  'Warmth stirs: a vessel that stands in the sun or cools keeps slow pieces up for longer than stated. Bubbles and clinging pieces behave otherwise.',
  'Each control settles for the same time in the same vessel.',
] as const;

/** Throws RangeError for a height, time, size or density that is no quantity. */
export function settleReport(wish: SettleWish): SettleReport {
  const { liquid, heightMm, afterS, shape, sizesUm, materials } = wish;
  const rows = settlingMap({ liquid, heightMm }, afterS, materials, sizesUm, shape);
  return {
    format: 'retentate/settle/1',
    liquid: {
      name: liquid.name,
      density_kg_m3: liquid.densityKgM3,
      viscosity_mpa_s: liquid.viscosityMPaS,
    },
    height_mm: heightMm,
    after_s: afterS,
    shape,
    materials: rows.map((cells, i) => ({
      code: materials[i]!.code,
      name: materials[i]!.name,
      density_g_ml: materials[i]!.density,
      density_seen: materials[i]!.seen,
      sizes: cells.map((cell) => ({
        size_um: cell.sizeUm,
        velocity_mm_s: cell.velocityMmS,
        clears_in_s: cell.clearsInS,
        sediment: cell.sediment,
        floating: cell.floating,
        verdict: cell.verdict,
        holds: cell.holds,
      })),
    })),
    cautions: SETTLE_CAUTIONS,
    sources: [
      'drag: Haider & Levenspiel 1989, Powder Technol. 58:63; other shapes by the similarity of Ganser 1993 and the exact spheroids of Perrin 1936',
      'water: Kell 1975, J. Chem. Eng. Data 20:97; Pátek et al. 2009, J. Phys. Chem. Ref. Data 38:21',
    ],
  };
}
