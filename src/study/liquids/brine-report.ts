/** `retentate/brine/1`: a recipe by mass and what floats on it, as a plain object with units in the names. */
import {
  type BrineTable,
  type Buoyancy,
  brineRecipe,
  buoyancy,
  densestKgM3,
  densestPercent,
  liquidOf,
  type Material,
  mapCell,
  type PieceShape,
  percentFor,
} from '../../science/fluids/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';

export interface BrineWish {
  readonly table: BrineTable;
  /** One of the two. */
  readonly massPercent: number | null;
  readonly densityKgM3: number | null;
  readonly volumeMl: number;
  readonly materials: readonly Material[];
  /** Time for pieces of this size to clear this height. */
  readonly sizeUm: number;
  readonly heightMm: number;
  readonly shape: PieceShape;
}

export interface BrineReport {
  readonly format: 'retentate/brine/1';
  readonly salt: string;
  readonly formula: string;
  readonly mass_percent: number;
  readonly density_kg_m3: number;
  readonly density_tolerance_kg_m3: number;
  /** Null: not known. */
  readonly viscosity_mpa_s: number | null;
  readonly volume_ml: number;
  readonly salt_g: number;
  readonly water_g: number;
  readonly hydrates: readonly { readonly name: string; readonly salt_g: number; readonly water_g: number }[];
  readonly near_saturation: boolean;
  /** Where a little more was asked than the salt gives: what is given instead; null: as asked. */
  readonly instead: string | null;
  readonly materials: readonly {
    readonly code: string;
    readonly name: string;
    readonly density_g_ml: readonly [number, number];
    readonly verdict: Buoyancy;
    /** Longest time over the printed densities; null where undecided or the viscosity is not known. */
    readonly clears_in_s: number | null;
  }[];
  readonly size_um: number;
  readonly height_mm: number;
  readonly cautions: readonly string[];
  readonly source: string;
}

/** A wish so little above the densest brine gets that one, said so: published practice rounds 1.197 to 1.20. Common practice, no source. */
const ROUNDED = 0.005;

/** A recipe, or a refusal where the salt does not reach the wish. */
export function brineReport(wish: BrineWish): Outcome<BrineReport> {
  const { table, sizeUm, heightMm, shape } = wish;
  const most = densestPercent(table);
  const densest = densestKgM3(table);
  const rounded =
    wish.densityKgM3 !== null && wish.densityKgM3 > densest && wish.densityKgM3 <= densest * (1 + ROUNDED);
  const percent = rounded ? most : (wish.massPercent ?? percentFor(table, wish.densityKgM3 ?? 0));
  if (percent === null || percent > most || percent < 0) {
    const asked =
      wish.massPercent === null ? `${(wish.densityKgM3 ?? 0) / 1000} g/mL` : `${wish.massPercent} %`;
    return refused({
      why: 'out-of-reach',
      message: `${table.salt} does not give ${asked}: it reaches from water (0.998 g/mL) to ${(densest / 1000).toFixed(3)} g/mL at ${most} % by mass, 20 °C. Ask for that, or take a denser salt.`,
    });
  }
  const recipe = brineRecipe(table, percent, wish.volumeMl);
  const liquid = liquidOf(recipe);
  return done({
    format: 'retentate/brine/1',
    salt: table.salt,
    formula: table.formula,
    mass_percent: percent,
    density_kg_m3: recipe.densityKgM3,
    density_tolerance_kg_m3: recipe.toleranceKgM3,
    viscosity_mpa_s: recipe.viscosityMPaS,
    volume_ml: recipe.volumeMl,
    salt_g: recipe.saltG,
    water_g: recipe.waterG,
    hydrates: recipe.hydrates.map(({ hydrate, saltG, waterG }) => ({
      name: hydrate.name,
      salt_g: saltG,
      water_g: waterG,
    })),
    near_saturation: recipe.nearSaturation,
    instead: rounded
      ? `${(wish.densityKgM3! / 1000).toFixed(3)} g/mL is a little more than ${table.salt} gives at 20 °C: this is its densest tabulated brine, ${(densest / 1000).toFixed(3)} g/mL, often rounded up in print.`
      : null,
    materials: wish.materials.map((material) => {
      const verdict = buoyancy(material, recipe.densityKgM3, recipe.toleranceKgM3);
      return {
        code: material.code,
        name: material.name,
        density_g_ml: material.density,
        verdict,
        clears_in_s:
          liquid === null || verdict === 'undecided'
            ? null
            : mapCell({ liquid, heightMm }, 0, material, sizeUm, shape).clearsInS,
      };
    }),
    size_um: sizeUm,
    height_mm: heightMm,
    cautions: [
      ...table.cautions,
      'Filter the brine through the pore of the size floor or finer before use, and run a blank of it; every control gets the same lot and volume.',
      'Check the density with a weighed volumetric flask or a hydrometer at 20 °C; stir out air bubbles, they lift anything.',
      'The safety data sheet of the salt, local rules and licensed practice come first.',
    ],
    source: table.source,
  });
}
