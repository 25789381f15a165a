import type { Step } from '../records/procedure.ts';
import { type Substance, substancesOf, unknownLiquid } from './substances.ts';

/** Usual cautions, one sentence each; safety data sheets, local rules and licensed practice come first. */
export interface Caution {
  readonly about: Substance | 'unknown-liquid' | 'heat' | 'blade' | 'brine' | 'oven';
  readonly message: string;
  /** True where the hazard asks for the fields of the safety gate. */
  readonly grave: boolean;
}

export const SAFETY_FIRST =
  'Safety data sheets, local rules and licensed or supervised practice come before anything on this page.';

const SAYS: Readonly<
  Record<Exclude<Caution['about'], 'unknown-liquid'>, readonly [grave: boolean, message: string]>
> = {
  peroxide: [
    true,
    'Peroxide: goggles and gloves, a vented vessel that is never sealed, no solvent near, dilute before it is thrown away.',
  ],
  iron: [
    true,
    'Peroxide with iron: heat and spray can run away; hood, small portions, ice bath ready, thermometer in the liquid, never scaled up, never left.',
  ],
  alkali: [true, 'Strong alkali: blinding burns; goggles, solid into cold water in portions, no aluminium.'],
  acid: [true, 'Acid: goggles and gloves, ventilation, never with hypochlorite.'],
  hypochlorite: [true, 'Hypochlorite: ventilate; never with acid, ammonia or urine.'],
  'toilet-cleaner': [
    true,
    'Toilet cleaner: acid or bleach by its label; ventilate, gloves and goggles, never with another cleaner.',
  ],
  ammonia: [true, 'Ammonia: ventilate; never with hypochlorite.'],
  solvent: [true, 'Solvent: no flame, spark or hot needle in the room that day; small amounts, ventilation.'],
  chlorinated: [true, 'Chlorinated solvent: not for this kind of laboratory.'],
  iodide: [true, 'Iodide: stains, and sets iodine free with an oxidiser; wash peroxide out first.'],
  'zinc-chloride': [
    true,
    'Zinc chloride: corrosive, very toxic to water life; collect all of it as chemical waste.',
  ],
  aluminium: [false, 'Aluminium: keep it away from alkali.'],
  nitrocellulose: [
    false,
    'Cellulose nitrate or mixed-ester filter: burns fiercely and dissolves in acetone; never under a needle or near a flame.',
  ],
  flame: [
    true,
    'Flame: heat-proof surface, hair tied, extinguisher, ventilation; fumes of PVC and PTFE are toxic; a temperature-controlled tip is safer.',
  ],
  'hot-needle': [
    true,
    'Hot needle: burns and fumes; on glass or steel, with ventilation, no solvent that day.',
  ],
  vacuum: [
    false,
    'Vacuum on glass: only thick-walled, vacuum-rated ware without scratches or star cracks, shielded; let air in at the pump side first; never a plain conical flask.',
  ],
  'body-fluid': [
    true,
    'Body fluid: your own sample only, labelled; consent and an ethics body where others take part; disinfect ware, wash hands; no acid with bleach.',
  ],
  mouth: [
    true,
    'Mouth contact: never in a laboratory or with laboratory glass; a food area and food-grade ware, willing grown-ups only.',
  ],
  'laboratory-glass': [false, 'Glass: no chips or cracks; it never goes back to the kitchen.'],
  sealed: [false, 'Sealed vessel: never where gas or heat can arise.'],
  stain: [true, 'Stain: gloves (that touch no sample), small volumes, collected as waste.'],
  enzyme: [false, 'Enzyme powder: irritates and can make allergic; weigh it without draught, with gloves.'],
  lamp: [true, 'Ultraviolet or laser: shields for the eyes.'],
  heat: [false, 'Hot liquid or plate: thermometer in it, boil-over guarded, somebody stays.'],
  blade: [false, 'Blade: cut away from the hand, on a board that does not slip.'],
  brine: [
    false,
    'Brine: keep it off skin and eyes; dissolve calcium and zinc chloride in portions, they heat the water.',
  ],
  oven: [false, 'Drying: filters and solvents do not go into a hot oven together; gloves for hot dishes.'],
};

const caution = (about: keyof typeof SAYS): Caution => ({
  about,
  message: SAYS[about][1],
  grave: SAYS[about][0],
});

const onNoList = (liquid: string): Caution => ({
  about: 'unknown-liquid',
  message: `“${liquid}” is on no list here, neither of what can hurt nor of what is harmless: read its safety data sheet before it is used.`,
  grave: true,
});

/** What to mind at one step, from its kind, what it touches, its temperature and its note. Pure; the same on screen and in print. */
export function cautionsOf(step: Step): readonly Caution[] {
  const about = new Set<keyof typeof SAYS>(
    substancesOf(step).filter((one) => one !== 'laboratory-glass' && one !== 'sealed'),
  );
  if (about.has('peroxide') && about.has('iron')) about.delete('peroxide');
  else about.delete('iron');
  const t = step.quantities.temperature_c;
  if (t !== undefined && t > 45) about.add(step.kind === 'dry' ? 'oven' : 'heat');
  if (step.kind === 'cut') about.add('blade');
  if (step.kind === 'float') about.add('brine');
  const unknown = unknownLiquid(step.touches.liquid);
  return [...[...about].map(caution), ...(unknown === null ? [] : [onNoList(unknown)])];
}

/** The cautions of a whole procedure, each once, the grave ones first. */
export function cautionsOfAll(steps: readonly Step[]): readonly Caution[] {
  const found = new Map(steps.flatMap(cautionsOf).map((one) => [one.message, one]));
  return [...found.values()].sort((a, b) => Number(b.grave) - Number(a.grave));
}
