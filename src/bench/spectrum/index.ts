import { CLASS_WORDS, isSynthetic, MATERIAL_CLASSES, type MaterialClass } from '../../study/index.ts';
import { type BenchTest, NOTHING_SAID, step } from '../bench-test.ts';

/** Names that laboratories write beside a spectrum, and the class they belong to; longer names first win. */
const NAMES: readonly (readonly [pattern: RegExp, of: MaterialClass])[] = [
  [/cellulose acetate|viscose|rayon|lyocell|modal\b/i, 'semi-synthetic'],
  [/rubber|silicone|pdms|epoxy|polyurethane|\bpur?\b|\bsbr\b|melamine/i, 'thermoset-or-rubber'],
  [/cotton|cellulose|linen|flax|hemp|paper/i, 'natural-fibre'],
  [/wool|silk|hair|keratin|protein/i, 'hair-or-silk'],
  [
    /poly|nylon|acryl|\b(pe|pp|ps|pet|pvc|pmma|pc|pa|pa ?6|pa ?66|abs|pla|eva|ptfe|pom|pet-?g|hdpe|ldpe)\b/i,
    'thermoplastic',
  ],
  [/wax|fat|stearate|lipid|\boil\b/i, 'wax-or-fat'],
  [/starch|sugar|sucrose/i, 'starch-or-sugar'],
  [/soap/i, 'soap'],
  [/lignin|plant|wood|chitin/i, 'plant-tissue'],
  [/quartz|silic|carbonate|calcite|glass|mineral|sand|clay/i, 'mineral'],
  [/steel|iron|alumin|metal|copper/i, 'metal'],
];

/** The class of a material by the name that stands beside a spectrum; null: not known to this list. */
export function classOfName(name: string): MaterialClass | null {
  const own = MATERIAL_CLASSES.find((one) => one === name || CLASS_WORDS[one] === name);
  return own ?? NAMES.find(([pattern]) => pattern.test(name))?.[1] ?? null;
}

export const spectrum: BenchTest = {
  id: 'spectrum',
  edition: 1,
  name: 'Spectrum',
  asks: 'What is the spectrum of the piece like, by the laboratory’s own references? “cannot tell” is an answer.',
  answer: { kind: 'spectrum' },
  settings: [
    { value: 'infrared', words: 'Infrared' },
    { value: 'raman', words: 'Raman' },
  ],
  errsBy: 'spectrum',
  destroys: false,
  identifies: 'polymer',
  needs: 'A spectrometer (borrowed is enough), references measured on it, the finder chart.',
  holds: { fromUm: { fragment: 20, fibre: 50 }, toUm: null, notOn: [] },
  steps: [
    step('Find the piece by the finder chart.'),
    step('Photograph it under this instrument.', { photo: 'before' }),
    step('Measure piece and bare filter beside it.'),
    step('Enter what the search says, or bring the results in as a table.'),
  ],
  hazards: [
    'Lasers: never look into the beam, covers closed.',
    'Raman light can burn dark pieces: begin with little power.',
  ],
  blindSpots:
    'Pigment and fluorescence hide the polymer in Raman; wet pieces and thick dark ones in infrared; copolymers look like their larger part.',
  published: [
    {
      what: 'kept-of-plastic',
      share: 0.93,
      worth: 20,
      source: 'De Frond et al. 2022 (abstract): 95 % (infrared) and 91 % (Raman) of particles right',
    },
  ],
  source:
    'De Frond et al. 2022 (abstract) for the rate. Size limits: 10–20 µm for microscopes of either kind, common practice.',
  judge: ({ value }) => {
    if (typeof value !== 'string' || value === 'cannot-tell') return NOTHING_SAID;
    const material = classOfName(value);
    if (material === null) return NOTHING_SAID;
    return {
      plastic: isSynthetic(material) ? 'for' : 'against',
      favours: [material],
      against: MATERIAL_CLASSES.filter((one) => one !== material),
      says: `Like ${value}: ${CLASS_WORDS[material]}.`,
    };
  },
};
