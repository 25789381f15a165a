/** How a statement was seen: its source read at least as an abstract, or from memory and not verified. */
export type Backing =
  | { readonly from: string; readonly seen: 'abstract' | 'text' }
  | { readonly from: 'from memory, unverified'; readonly seen: 'memory' };

export const MEMORY: Backing = { from: 'from memory, unverified', seen: 'memory' };
export const abstractOf = (from: string): Backing => ({ from, seen: 'abstract' });

/** Where the work is done decides what may be offered at all. */
export const SETTINGS = ['kitchen', 'school', 'laboratory'] as const;
export type Setting = (typeof SETTINGS)[number];

export const EQUIPMENT = [
  'thermometer',
  'water-bath',
  'ice-bath',
  'fume-hood',
  'goggles-and-gloves',
  'vented-vessel',
  'balance',
] as const;
export type Equipment = (typeof EQUIPMENT)[number];

export const EQUIPMENT_WORDS: Readonly<Record<Equipment, string>> = {
  thermometer: 'a thermometer in the liquid',
  'water-bath': 'a water bath or plate that holds its temperature',
  'ice-bath': 'an ice bath within reach',
  'fume-hood': 'a fume hood',
  'goggles-and-gloves': 'goggles and fitting gloves',
  'vented-vessel': 'a vented vessel four times the volume, never sealed',
  balance: 'a balance',
};

export const REAGENTS = [
  'none',
  'enzymes',
  'amylase',
  'cellulase',
  'lipase',
  'soap-rinse',
  'dilute-peroxide',
  'peroxide',
  'fenton',
  'cold-alkali',
  'alkali-then-ethanol',
  'brief-acid',
  'hypochlorite',
  'hot-alkali',
  'strong-acid',
] as const;
export type Reagent = (typeof REAGENTS)[number];

export interface ReagentFacts {
  readonly reagent: Reagent;
  readonly name: string;
  readonly does: string;
  /** mL of it per gram of wet matrix; null where its label says. */
  readonly mlPerG: number | null;
  readonly amount: string;
  readonly ceilingC: number | null;
  readonly hours: readonly [number, number] | null;
  readonly needs: readonly Equipment[];
  /** Least demanding place in which it may be offered; null: never offered by this program. */
  readonly from: Setting | null;
  readonly blank: string;
  readonly cautions: readonly string[];
  readonly backing: Backing;
}

const GOGGLES = 'Goggles and gloves before the bottle is opened; water for the eyes within reach.';
const NEVER_SEALED = 'Never seal the vessel: a millilitre of 30 % peroxide gives up to 100 mL of gas.';

export const REAGENT_FACTS: Readonly<Record<Reagent, ReagentFacts>> = {
  none: {
    reagent: 'none',
    name: 'no digestion: filter directly',
    does: 'each step that is left out brings no background',
    mlPerG: 0,
    amount: 'nothing',
    ceilingC: null,
    hours: null,
    needs: [],
    from: 'kitchen',
    blank: 'adds nothing',
    cautions: [],
    backing: MEMORY,
  },
  enzymes: {
    reagent: 'enzymes',
    name: 'protein-splitting enzymes (pancreatic or a protease), buffered',
    does: 'takes protein and mucus apart and leaves polymers alone',
    mlPerG: null,
    amount: 'as its label says for the mass; buffer to the label’s pH',
    ceilingC: 40,
    hours: [12, 24],
    needs: ['thermometer', 'water-bath'],
    from: 'school',
    blank: 'powders bring specks and starch: filter the solution, and run a blank of each lot',
    cautions: ['Enzyme dust irritates and can make allergic: weigh it damp or without draught, with gloves.'],
    backing: abstractOf(
      'von Friesen et al. 2019, Mar. Pollut. Bull. 142:129 (97.7 % of bivalve tissue overnight, no harm to 4 polymers and 6 fibres)',
    ),
  },
  amylase: {
    reagent: 'amylase',
    name: 'amylase',
    does: 'takes starch apart',
    mlPerG: null,
    amount: 'as its label says',
    ceilingC: 50,
    hours: [1, 12],
    needs: ['thermometer', 'water-bath'],
    from: 'school',
    blank: 'filter the solution; a blank of each lot',
    cautions: ['Enzyme dust irritates: weigh it damp.'],
    backing: MEMORY,
  },
  cellulase: {
    reagent: 'cellulase',
    name: 'cellulase',
    does: 'softens plant walls, slowly; cotton and viscose shrink with it',
    mlPerG: null,
    amount: 'as its label says, pH near 5',
    ceilingC: 50,
    hours: [24, 120],
    needs: ['thermometer', 'water-bath'],
    from: 'school',
    blank: 'filter the solution; long standing means a long-standing blank',
    cautions: ['Enzyme dust irritates: weigh it damp.'],
    backing: abstractOf('Löder et al. 2017, Environ. Sci. Technol. 51:14283 (sequence; details from memory)'),
  },
  lipase: {
    reagent: 'lipase',
    name: 'lipase',
    does: 'takes fat apart',
    mlPerG: null,
    amount: 'as its label says',
    ceilingC: 40,
    hours: [12, 48],
    needs: ['thermometer', 'water-bath'],
    from: 'school',
    blank: 'filter the solution; a blank of each lot',
    cautions: ['Enzyme dust irritates: weigh it damp.'],
    backing: MEMORY,
  },
  'soap-rinse': {
    reagent: 'soap-rinse',
    name: 'warm, filtered washing-up liquid, well rinsed after',
    does: 'carries fat through the filter',
    mlPerG: 10,
    amount: 'about 10 mL of a 1 % solution per gram of matrix, then three rinses',
    ceilingC: 40,
    hours: [0.5, 2],
    needs: ['thermometer'],
    from: 'kitchen',
    blank: 'soap residue looks like polyethylene in spectra and like wax under the lens: rinse, and blank it',
    cautions: [],
    backing: abstractOf('Witzig et al. 2020, Environ. Sci. Technol. (residues taken for polyethylene)'),
  },
  'dilute-peroxide': {
    reagent: 'dilute-peroxide',
    name: 'hydrogen peroxide, 3 to 12 %',
    does: 'bleaches and slowly dissolves tannin and soft plant matter',
    mlPerG: 20,
    amount: 'about 20 mL per gram of matrix, fresh every day',
    ceilingC: 40,
    hours: [24, 168],
    needs: ['thermometer', 'goggles-and-gloves', 'vented-vessel'],
    from: 'school',
    blank: 'the volume counts: a blank with half the peroxide has half its background',
    cautions: [GOGGLES, NEVER_SEALED, 'Never together with alcohol, acetone or another solvent.'],
    backing: MEMORY,
  },
  peroxide: {
    reagent: 'peroxide',
    name: 'hydrogen peroxide, 15 to 30 %',
    does: 'dissolves and bleaches organic matter over days',
    mlPerG: 20,
    amount: 'about 20 mL per gram of matrix, added in portions',
    ceilingC: 40,
    hours: [24, 168],
    needs: ['thermometer', 'water-bath', 'goggles-and-gloves', 'vented-vessel', 'fume-hood'],
    from: 'laboratory',
    blank: 'the volume counts: same lot, same volume, same days in every control',
    cautions: [
      GOGGLES,
      NEVER_SEALED,
      'Oxidiser: no paper, cloth or solvent near it; some countries limit who may buy it.',
    ],
    backing: abstractOf(
      'Nuelle et al. 2014, Environ. Pollut. 184:161 (35 %, one week: 92 % of the matter; pieces recovered 91–99 %)',
    ),
  },
  fenton: {
    reagent: 'fenton',
    name: 'peroxide with iron (Fenton)',
    does: 'dissolves plant matter within hours, with much heat and foam',
    mlPerG: 20,
    amount:
      'in portions of at most 5 mL, waiting for each to calm: 1 part 0.05 M iron(II) at pH 3 to 1 part 30 % peroxide',
    ceilingC: 40,
    hours: [1, 6],
    needs: ['thermometer', 'ice-bath', 'goggles-and-gloves', 'vented-vessel', 'fume-hood'],
    from: 'laboratory',
    blank: 'iron leaves orange specks: a brief weak-acid rinse in specimen and control alike',
    cautions: [
      'Runaway heat and spray: small portions, ice bath ready, thermometer in the liquid, never scaled up, never left alone.',
      GOGGLES,
      NEVER_SEALED,
    ],
    backing: abstractOf(
      'Hurley et al. 2018, Environ. Sci. Technol. 52:7409 (below 40 °C, pH 3; memory); Masura et al. 2015, NOAA (amounts; memory); Tagg et al. 2017 (PE, PP, PVC, nylon unchanged; abstract)',
    ),
  },
  'cold-alkali': {
    reagent: 'cold-alkali',
    name: 'potassium hydroxide, 10 g in 100 mL',
    does: 'dissolves protein and tissue',
    mlPerG: 10,
    amount: 'about 10 mL per gram of wet matrix',
    ceilingC: 40,
    hours: [24, 72],
    needs: ['thermometer', 'water-bath', 'goggles-and-gloves', 'balance'],
    from: 'laboratory',
    blank: 'pellets bring specks: filter the solution through glass fibre, and blank each lot',
    cautions: [
      GOGGLES,
      'Add the solid to cold water in portions, never the other way: it boils and spits.',
      'No aluminium, and no hot glass filters: alkali widens their pores.',
    ],
    backing: abstractOf(
      'Alfonso et al. 2021, Mar. Pollut. Bull. 113027 (40 °C for 72 h kept the sizes of all tested polymers, 60 °C did not)',
    ),
  },
  'alkali-then-ethanol': {
    reagent: 'alkali-then-ethanol',
    name: 'potassium hydroxide, then ethanol',
    does: 'dissolves tissue, and the soap gel that fat leaves',
    mlPerG: 10,
    amount: 'about 10 mL of 10 % KOH per gram; after cooling as much ethanol as it takes to clear the gel',
    ceilingC: 40,
    hours: [24, 72],
    needs: ['thermometer', 'water-bath', 'goggles-and-gloves', 'fume-hood', 'balance'],
    from: 'laboratory',
    blank: 'two reagents, two lots: a blank of the whole sequence',
    cautions: [GOGGLES, 'Caustic and flammable together: no flame, no spark, no hot needle that day.'],
    backing: abstractOf(
      'Front. Environ. Sci. 2020, 8:563565 (over 97 % digested; 93–100 % of PE, PS, rayon, polyester recovered)',
    ),
  },
  'brief-acid': {
    reagent: 'brief-acid',
    name: 'dilute acid, minutes (citric, vinegar; hydrochloric in a laboratory)',
    does: 'dissolves chalk and iron stains',
    mlPerG: 10,
    amount: 'until it stops foaming',
    ceilingC: 25,
    hours: [0.1, 0.5],
    needs: ['goggles-and-gloves'],
    from: 'school',
    blank: 'the same minutes in every control',
    cautions: [GOGGLES, 'Never near hypochlorite: chlorine gas.'],
    backing: abstractOf(
      'Pfeiffer & Fischer 2020, Front. Environ. Sci. 8:572424 (acids dissolved carbonate, bases and oxidants did not)',
    ),
  },
  hypochlorite: {
    reagent: 'hypochlorite',
    name: 'hypochlorite (bleach)',
    does: 'destroys tissue and colour',
    mlPerG: 10,
    amount: 'not offered as a first choice',
    ceilingC: 25,
    hours: [1, 24],
    needs: ['goggles-and-gloves', 'fume-hood'],
    from: 'laboratory',
    blank: 'bleaches colours: particles change their class',
    cautions: [GOGGLES, 'Chlorine with acid, chloramine with ammonia or urine: never mix.'],
    backing: abstractOf('Pfeiffer & Fischer 2020, Front. Environ. Sci. 8:572424 (destroys tissue best)'),
  },
  'hot-alkali': {
    reagent: 'hot-alkali',
    name: 'strong or hot alkali (60 °C and above)',
    does: 'dissolves tissue fast, and several polymers with it',
    mlPerG: null,
    amount: 'not offered',
    ceilingC: null,
    hours: null,
    needs: [],
    from: null,
    blank: 'attacks glass',
    cautions: ['Blinding burns.'],
    backing: abstractOf(
      'Sarno et al. 2021, Environ. Sci. Technol. Lett. 8:250 (PET fibres dissolved within 3 h)',
    ),
  },
  'strong-acid': {
    reagent: 'strong-acid',
    name: 'nitric or another concentrated acid',
    does: 'dissolves tissue, and nylon with it',
    mlPerG: null,
    amount: 'not offered',
    ceilingC: null,
    hours: null,
    needs: [],
    from: null,
    blank: 'bleaches and yellows pieces',
    cautions: ['Toxic fumes, burns: not for this kind of laboratory.'],
    backing: abstractOf(
      'Catarino et al. 2017, Environ. Toxicol. Chem. 36:947 (unacceptable loss of some plastics)',
    ),
  },
};
