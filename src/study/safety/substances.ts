import type { Step } from '../records/procedure.ts';

/** What can hurt, alone or together with another. */
export const SUBSTANCES = [
  'peroxide',
  'iron',
  'alkali',
  'acid',
  'hypochlorite',
  'ammonia',
  'solvent',
  'chlorinated',
  'iodide',
  'zinc-chloride',
  'aluminium',
  'nitrocellulose',
  'flame',
  'hot-needle',
  'vacuum',
  'body-fluid',
  'mouth',
  'laboratory-glass',
  'sealed',
  'stain',
  'enzyme',
  'lamp',
] as const;
export type Substance = (typeof SUBSTANCES)[number];

export const SUBSTANCE_WORDS: Readonly<Record<Substance, string>> = {
  peroxide: 'peroxide',
  iron: 'an iron salt',
  alkali: 'strong alkali',
  acid: 'an acid',
  hypochlorite: 'hypochlorite (bleach)',
  ammonia: 'ammonia',
  solvent: 'a solvent',
  chlorinated: 'a chlorinated solvent',
  iodide: 'an iodide',
  'zinc-chloride': 'zinc chloride',
  aluminium: 'aluminium',
  nitrocellulose: 'a cellulose nitrate or mixed-ester filter',
  flame: 'a flame',
  'hot-needle': 'a hot needle',
  vacuum: 'vacuum',
  'body-fluid': 'a body fluid',
  mouth: 'mouth contact',
  'laboratory-glass': 'laboratory glass',
  sealed: 'a sealed vessel',
  stain: 'a stain',
  enzyme: 'an enzyme powder',
  lamp: 'an ultraviolet lamp or laser',
};

/** How people write these things down. */
const WRITTEN: readonly (readonly [Substance, RegExp])[] = [
  ['peroxide', /peroxide|h2o2|h₂o₂|fenton|perhydrol/],
  ['iron', /fenton|iron|ferrous|feso4|fe\(ii\)|fe2\+/],
  ['alkali', /\bkoh\b|\bnaoh\b|potassium hydroxide|sodium hydroxide|\blye\b|caustic|alkali/],
  ['acid', /\bacid|\bhcl\b|\bhno3\b|\bh2so4\b|vinegar|citric/],
  ['hypochlorite', /hypochlorite|\bbleach\b|naocl|naclo/],
  ['ammonia', /ammonia|\bnh3\b|urine/],
  [
    'solvent',
    /acetone|ethanol|alcohol|isopropanol|propanol|methanol|hexane|heptane|toluene|xylene|ethyl acetate|petrol|white spirit|solvent/,
  ],
  ['chlorinated', /chloroform|dichloromethane|\bdcm\b|methylene chloride|trichlor|tetrachlor/],
  ['iodide', /iodide|\bnai\b/],
  ['zinc-chloride', /zinc chloride|zncl2|zncl₂/],
  ['aluminium', /alumin(i)?um|\balu foil\b|tin ?foil/],
  ['nitrocellulose', /nitrocellulose|cellulose nitrate|mixed cellulose ester|mixed ester|\bmce\b/],
  ['flame', /\bflame|torch|burner|candle|lighter/],
  ['hot-needle', /hot needle|heated needle|soldering iron/],
  ['vacuum', /vacuum|suction|\bpump\b/],
  ['body-fluid', /saliva|spit|blood|urine|stool|breast milk|sputum/],
  ['mouth', /\bmouth|\bchew|\btaste|\bswallow|\blick|\bsip\b|\bbite|brush(ing)? teeth/],
  ['laboratory-glass', /beaker|erlenmeyer|laboratory glass|lab glass|flask|petri/],
  ['sealed', /\bsealed\b|screw ?cap|closed tight|stoppered/],
  ['stain', /nile red|\bstain/],
  ['enzyme', /enzyme|protease|amylase|cellulase|lipase|pepsin|trypsin|pancrea/],
  ['lamp', /\buv\b|ultraviolet|laser/],
];

/** A word that takes the meaning back: "no acetone", "never sealed", "without flame". */
const DENIED = /\b(no|not|never|without|non)[\s-]+(a |an |any )?$/;

/** What a piece of text speaks of. Deceives when: a thing is written under a brand or a code of the house. */
export function substancesIn(text: string): readonly Substance[] {
  const plain = text.toLowerCase();
  return WRITTEN.flatMap(([substance, pattern]) => {
    const all = plain.matchAll(new RegExp(pattern.source, 'g'));
    return [...all].some((hit) => !DENIED.test(plain.slice(0, hit.index))) ? [substance] : [];
  });
}

/** What a step works with: its kind, what it touches and its note, as written. */
export function substancesOf(step: Step): readonly Substance[] {
  const { liquid, reagentLot, tool, vessel, filterLot } = step.touches;
  const text = [step.key, liquid, reagentLot, tool, vessel, filterLot, step.note].filter(Boolean).join(' · ');
  const found = new Set(substancesIn(text.replaceAll(/[-_]/g, ' ')));
  if (step.kind === 'filter' && step.touches.tool === null) found.add('vacuum');
  return [...found];
}
