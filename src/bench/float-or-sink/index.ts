import type { MaterialClass } from '../../study/index.ts';
import { type BenchTest, judged, LOCAL_RULES, NOTHING_SAID, step } from '../bench-test.ts';

/** Densities by class, g/cm³ at 20 °C: the span of what is common. Tables of polymer properties; others from memory, unverified. */
const DENSITY: Readonly<Record<MaterialClass, readonly [number, number]>> = {
  thermoplastic: [0.9, 1.6],
  'thermoset-or-rubber': [0.91, 1.6],
  'semi-synthetic': [1.28, 1.54],
  'natural-fibre': [1.44, 1.54],
  'hair-or-silk': [1.25, 1.34],
  'plant-tissue': [0.9, 1.5],
  'wax-or-fat': [0.86, 0.98],
  'starch-or-sugar': [1.4, 1.6],
  soap: [1.0, 1.1],
  mineral: [2.2, 3],
  metal: [2.5, 9],
};

/** Liquids by name with their density at 20 °C, g/cm³. */
const LIQUIDS: Readonly<Record<string, readonly [density: number, words: string]>> = {
  water: [0.998, 'Water, a trace of washing-up liquid'],
  'salt-1.20': [1.197, 'Table salt, saturated'],
  'sugar-1.30': [1.299, 'Sugar 62 % by mass'],
  'iodide-1.60': [1.6, 'Sodium iodide 1.60'],
};

/** A liquid whose density lies this close to the piece's decides nothing. */
const TOO_CLOSE = 0.005;

export const floatOrSink: BenchTest = {
  id: 'float-or-sink',
  edition: 1,
  name: 'Float or sink',
  asks: 'Where is the piece when the liquid has come to rest?',
  answer: {
    kind: 'one-of',
    choices: [
      { value: 'floats', words: 'Floats' },
      { value: 'sinks', words: 'Sinks' },
      { value: 'hovers', words: 'Hovers in the middle' },
    ],
  },
  settings: Object.entries(LIQUIDS).map(([value, [, words]]) => ({ value, words })),
  errsBy: 'density',
  destroys: false,
  identifies: null,
  needs:
    'A narrow glass, the liquid with its density checked by weighing, a known piece that floats and one that sinks.',
  holds: { fromUm: { fragment: 200, fibre: 500 }, toUm: 5000, notOn: [] },
  steps: [
    step('Check the liquid with a piece of known plastic.'),
    step('Photograph the piece.', { photo: 'before' }),
    step('Wet the piece well, push it under twice, knock off every bubble.'),
    step('Wait for the liquid to come to rest.', { seconds: 120 }),
    step('Photograph it in the glass.', { photo: 'after' }),
  ],
  hazards: [
    'Sodium iodide stains, and sets iodine free with peroxide: no peroxide near it; collect the liquid.',
    LOCAL_RULES,
  ],
  blindSpots:
    'Air bubbles carry sinking pieces up and small pieces stay in the surface; fillers, biofilm and foam change the density of plastic.',
  published: [],
  source:
    'Densities of polymers: tables of Encyclopædia Britannica and ACS Omega 2022, 7:13403 (others from memory, unverified); sodium chloride saturated 1.197 g/cm³ at 20 °C.',
  judge: ({ value, setting }) => {
    const density = setting === null ? undefined : LIQUIDS[setting]?.[0];
    if (density === undefined || (value !== 'floats' && value !== 'sinks')) return NOTHING_SAID;
    const against = (Object.keys(DENSITY) as MaterialClass[]).filter((one) => {
      const [least, most] = DENSITY[one];
      return value === 'floats' ? least > density + TOO_CLOSE : most < density - TOO_CLOSE;
    });
    const favours = (Object.keys(DENSITY) as MaterialClass[]).filter((one) => {
      const [least, most] = DENSITY[one];
      return value === 'floats' ? most < density - TOO_CLOSE : least > density + TOO_CLOSE;
    });
    return against.length === 0 && favours.length === 0 ? NOTHING_SAID : judged(favours, against);
  },
};
