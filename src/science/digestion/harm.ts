import { abstractOf, type Backing, MEMORY, type Reagent } from './reagents.ts';

export const POLYMER_GROUPS = [
  'PE',
  'PP',
  'PS',
  'PET',
  'PC',
  'PA',
  'PVC',
  'PU',
  'PLA',
  'CA',
  'PVAC',
  'rubber',
] as const;
export type PolymerGroup = (typeof POLYMER_GROUPS)[number];

export const POLYMER_WORDS: Readonly<Record<PolymerGroup, string>> = {
  PE: 'polyethylene',
  PP: 'polypropylene',
  PS: 'polystyrene',
  PET: 'polyester (PET)',
  PC: 'polycarbonate',
  PA: 'nylon',
  PVC: 'PVC',
  PU: 'polyurethane',
  PLA: 'polylactide and other biodegradables',
  CA: 'cellulose acetate',
  PVAC: 'poly(vinyl acetate)',
  rubber: 'rubber',
};

export type Harm = 'ok' | 'caution' | 'harm';

export interface HarmCell {
  readonly harm: Harm;
  readonly note: string;
  readonly backing: Backing;
}

/** Columns of the printed table that several of our reagents share. */
type HarmColumn =
  | 'cold-alkali'
  | 'hot-alkali'
  | 'peroxide'
  | 'fenton'
  | 'strong-acid'
  | 'brief-acid'
  | 'hypochlorite'
  | 'enzymes';

const COLUMN: Readonly<Record<Exclude<Reagent, 'none' | 'soap-rinse'>, HarmColumn>> = {
  enzymes: 'enzymes',
  amylase: 'enzymes',
  cellulase: 'enzymes',
  lipase: 'enzymes',
  'dilute-peroxide': 'peroxide',
  peroxide: 'peroxide',
  fenton: 'fenton',
  'cold-alkali': 'cold-alkali',
  'alkali-then-ethanol': 'cold-alkali',
  'brief-acid': 'brief-acid',
  hypochlorite: 'hypochlorite',
  'hot-alkali': 'hot-alkali',
  'strong-acid': 'strong-acid',
};

const ORDER: readonly HarmColumn[] = [
  'cold-alkali',
  'hot-alkali',
  'peroxide',
  'fenton',
  'strong-acid',
  'brief-acid',
  'hypochlorite',
  'enzymes',
];

/** o unharmed, c caution, x harmed: conservative, from memory where no cell below says otherwise. */
const TABLE: Readonly<Record<PolymerGroup, string>> = {
  PE: 'oooocooo',
  PP: 'oooocooo',
  PS: 'ocooxooo',
  PET: 'cxoocooo',
  PC: 'cxcoxooo',
  PA: 'occoxxxo',
  PVC: 'ocooxooo',
  PU: 'cxcoxcco',
  PLA: 'xxcoxcxc',
  CA: 'xxcxxoxc',
  PVAC: 'xxccxoco',
  rubber: 'ooccxoxo',
};

const PFOHL = abstractOf('Pfohl et al. 2021, Microplast. Nanoplast. s43591-021-00009-9');
const REVIEW = abstractOf('extraction review, PMC10420958, Table 5');
const ALFONSO = abstractOf('Alfonso et al. 2021, Mar. Pollut. Bull. 113027');

/** Cells whose source was seen. */
const SEEN: Readonly<Record<string, { readonly note: string; readonly backing: Backing }>> = {
  'PET/fenton': { note: 'changed size at 60 °C; keep below 40 °C', backing: ALFONSO },
  'PET/cold-alkali': { note: 'kept its size at 40 °C for 72 h; fibres are at more risk', backing: ALFONSO },
  'PET/hot-alkali': {
    note: 'fibres dissolved within 3 h',
    backing: abstractOf('Sarno et al. 2021, Environ. Sci. Technol. Lett. 8:250'),
  },
  'PA/hypochlorite': { note: 'attacked', backing: REVIEW },
  'PLA/hot-alkali': { note: 'destroyed', backing: PFOHL },
  'PLA/fenton': { note: 'mostly unharmed', backing: PFOHL },
  'PU/fenton': { note: 'mostly unharmed', backing: PFOHL },
  'CA/cold-alkali': { note: 'destroyed', backing: REVIEW },
  'CA/fenton': { note: 'destroyed', backing: REVIEW },
  'PE/cold-alkali': {
    note: 'one review lists mass loss of low-density PE at 50 °C: keep to 40 °C',
    backing: REVIEW,
  },
  'PE/fenton': {
    note: 'no change of chemistry or size',
    backing: abstractOf('Tagg et al. 2017, Chem. Commun.'),
  },
  'PP/fenton': {
    note: 'no change of chemistry or size',
    backing: abstractOf('Tagg et al. 2017, Chem. Commun.'),
  },
  'PVC/fenton': {
    note: 'no change of chemistry or size',
    backing: abstractOf('Tagg et al. 2017, Chem. Commun.'),
  },
  'PA/fenton': {
    note: 'no change of chemistry or size',
    backing: abstractOf('Tagg et al. 2017, Chem. Commun.'),
  },
};

const WORD: Readonly<Record<string, Harm>> = { o: 'ok', c: 'caution', x: 'harm' };
const NOTE: Readonly<Record<Harm, string>> = {
  ok: 'expected to survive',
  caution: 'may change: put a coupon through',
  harm: 'may be destroyed: not for this polymer',
};

/** What a reagent does to a polymer, at the ceiling temperature that is stated for it or below. */
export function harmTo(polymer: PolymerGroup, reagent: Reagent): HarmCell {
  if (reagent === 'none' || reagent === 'soap-rinse')
    return { harm: 'ok', note: 'nothing attacks it', backing: MEMORY };
  const column = COLUMN[reagent];
  const harm = WORD[TABLE[polymer][ORDER.indexOf(column)]!]!;
  const seen = SEEN[`${polymer}/${column}`];
  return { harm, note: seen?.note ?? NOTE[harm], backing: seen?.backing ?? MEMORY };
}
