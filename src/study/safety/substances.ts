import type { Step } from '../records/procedure.ts';

/** What can hurt, alone or together with another. */
export const SUBSTANCES = [
  'peroxide',
  'iron',
  'alkali',
  'acid',
  'hypochlorite',
  'toilet-cleaner',
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
  'toilet-cleaner': 'toilet cleaner',
  ammonia: 'ammonia',
  solvent: 'a solvent',
  chlorinated: 'a chlorinated solvent',
  iodide: 'an iodide',
  'zinc-chloride': 'zinc chloride',
  aluminium: 'aluminium',
  nitrocellulose: 'a cellulose nitrate or mixed-ester filter',
  flame: 'a flame or heat gun',
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

/** How people write these things down: by name, by formula, and by what stands on the bottle of a household. */
const WRITTEN: readonly (readonly [Substance, RegExp])[] = [
  ['peroxide', /peroxide|h2o2|h₂o₂|fenton|perhydrol|percarbonate|perborate|peracetic|oxygen bleach/],
  ['iron', /fenton|(?<!(soldering|clothes|cast|flat|curling) )\biron\b|ferrous|feso4|feso₄|fe\(ii\)|fe2\+/],
  [
    'alkali',
    /\bkoh\b|\bnaoh\b|hydroxide?\b|\blye\b|caustic|alkali|(drain|oven) cleaner|washing soda|sodium carbonate/,
  ],
  [
    'acid',
    /\bacid|\bhcl\b|\bhno3\b|\bhno₃|\bh2so4\b|\bh₂so₄|vinegar|citric|(lemon|lime) juice|descal|limescale remover/,
  ],
  [
    'hypochlorite',
    /hypochlorite|(?<!oxygen )\bbleach\b|naocl|naclo|javel|pool chlorine|sterili[sz]ing (tablet|fluid)/,
  ],
  ['toilet-cleaner', /toilet (bowl )?cleaner/],
  ['ammonia', /ammonia|ammonium hydroxide|\bnh3\b|\bnh₃|\bnh4oh\b|urine|(window|glass) cleaner/],
  [
    'solvent',
    /acetone|ethanol|alcohol|isopropanol|propanol|methanol|hexane|heptane|pentane|toluene|xylene|benzene|dioxane|naphtha|turpentine|thinner|ethyl acetate|petrol|gasoline|(white|methylated|surgical) spirits?\b|\bmeths\b|nail (polish|varnish) remover|lighter fluid|\bether\b|\bthf\b|tetrahydrofuran|\bmek\b|butanone|\bipa\b|\bdmf\b|dimethylformamide|solvent/,
  ],
  [
    'chlorinated',
    /chloroform|\bchcl3|\bchcl₃|dichloromethane|\bch2cl2|\bch₂cl₂|\bdcm\b|methylene chloride|trichlor|tetrachlor/,
  ],
  ['iodide', /iodide|iodine|\bnai\b|\bki\b/],
  ['zinc-chloride', /zinc chloride|zncl2|zncl₂/],
  ['aluminium', /alumin(i)?um|\balu foil\b|tin ?foil|(kitchen|household|baking|cooking) foil/],
  ['nitrocellulose', /nitrocellulose|cellulose nitrate|mixed cellulose ester|mixed ester|\bmce\b/],
  ['flame', /\bflame|torch|burner|bunsen|candle|\blighter\b|(heat|hot air) gun/],
  ['hot-needle', /(hot|heated) (needle|tip|wire)|soldering iron/],
  ['vacuum', /vacuum|suction|\bpump\b/],
  ['body-fluid', /saliva|\bspit\b|\bspat\b|blood|urine|stool|breast milk|sputum/],
  [
    'mouth',
    // Liquid is sucked through a filter or up a pipette as well.
    /\bmouth|\bchew|\btaste|\bswallow|\blick|\bsip\b|\bbite|\bsuck(s|ed|ing)?\b(?![^.;·]*\b(through|off|up|down|dry|into|pump|pipette|syringe|filter)\b)|brush(ing)? teeth|\bdrink(s|ing)? (from|through|it)\b/,
  ],
  ['laboratory-glass', /beaker|erlenmeyer|laboratory glass|lab glass|flask|petri/],
  ['sealed', /\bsealed\b|screw[ -]?(cap|top)|closed tight|tightly closed|airtight|stoppered/],
  ['stain', /nile red|\bstain/],
  ['enzyme', /enzyme|protease|amylase|cellulase|lipase|pepsin|trypsin|pancrea/],
  ['lamp', /\buv\b|ultraviolet|laser/],
];

/** Liquids that ask for no more than common care. Whatever is on neither list is asked about. */
const HARMLESS =
  /\b(water|tea|coffee|milk|broth|stock|soup|juice|lemonade|cola|wine|beer|honey|syrup|sugar|saline|salt|brine|sodium chloride|nacl|calcium chloride|cacl2|glycerol|glycerine|oil|butter|yoghurt|detergent|soap|washing[ -]up liquid|dish ?washing|starch|gelatine?|food|drink|sample|filtrate|digest|supernatant|rinse|slurry|liquid|same|nothing|none|dry|air)\b/;

/** A word that takes the meaning back: "no acetone", "never sealed", "without flame", "ammonia-free". */
const DENIED = /\b(no|not|never|without|non)[\s-]+(a |an |any )?$/;
const FREE = /^\w*[\s-]free\b/;

/** What a piece of text speaks of. Deceives when: a thing is written under a brand or a code of the house. */
export function substancesIn(text: string): readonly Substance[] {
  const plain = text.toLowerCase();
  return WRITTEN.flatMap(([substance, pattern]) => {
    const all = plain.matchAll(new RegExp(pattern.source, 'g'));
    return [...all].some(
      (hit) => !DENIED.test(plain.slice(0, hit.index)) && !FREE.test(plain.slice(hit.index + hit[0].length)),
    )
      ? [substance]
      : [];
  });
}

/** Ware and tools say nothing of what a liquid is. */
const WARE: readonly Substance[] = ['laboratory-glass', 'sealed', 'vacuum', 'aluminium', 'nitrocellulose'];

/** The name of a liquid that is on no list, neither of what can hurt nor of what asks for common care alone; null: it is on one. */
export function unknownLiquid(liquid: string | null): string | null {
  if (liquid === null || liquid.trim() === '') return null;
  const plain = liquid.toLowerCase().replaceAll(/[-_]/g, ' ');
  return HARMLESS.test(plain) || substancesIn(plain).some((one) => !WARE.includes(one))
    ? null
    : liquid.trim();
}

/** What a step works with: its kind, what it touches and its note, as written. */
export function substancesOf(step: Step): readonly Substance[] {
  const { liquid, reagentLot, tool, vessel, filterLot } = step.touches;
  const text = [step.key, liquid, reagentLot, tool, vessel, filterLot, step.note].filter(Boolean).join(' · ');
  const found = new Set(substancesIn(text.replaceAll(/[-_]/g, ' ')));
  if (step.kind === 'filter' && step.touches.tool === null) found.add('vacuum');
  return [...found];
}
