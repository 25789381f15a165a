import { type BenchTest, judged, LOCAL_RULES, NOTHING_SAID, step } from '../bench-test.ts';

export const solventSpot: BenchTest = {
  id: 'solvent-spot',
  edition: 1,
  name: 'Solvent spot',
  asks: 'What does a small drop of the solvent do to the piece within half a minute?',
  answer: {
    kind: 'one-of',
    choices: [
      { value: 'dissolves', words: 'Dissolves or smears' },
      { value: 'softens', words: 'Softens, swells or goes tacky' },
      { value: 'stays', words: 'Stays as it was' },
    ],
  },
  settings: [
    { value: 'acetone', words: 'Acetone' },
    { value: 'ethanol', words: 'Ethanol 96 %' },
  ],
  errsBy: 'solvent',
  destroys: true,
  identifies: null,
  needs: 'A glass slide, a fine glass rod, acetone or ethanol in millilitres.',
  holds: {
    fromUm: { fragment: 100, fibre: 200 },
    toUm: 5000,
    notOn: [
      {
        word: 'nitrate',
        because: 'acetone dissolves cellulose nitrate: move the piece onto a glass slide first',
      },
      {
        word: 'acetate',
        because: 'acetone dissolves cellulose acetate: move the piece onto a glass slide first',
      },
      { word: 'polycarbonate', because: 'acetone attacks it: move the piece onto a glass slide first' },
    ],
  },
  steps: [
    step('No flame and no hot needle in this room today. Lay the piece on a glass slide.'),
    step('Photograph it.', { photo: 'before' }),
    step('Set one small drop beside it and let it run over the piece.', { seconds: 30, noWayBack: true }),
    step('Press gently with the glass rod: is it softer? Photograph it.', { photo: 'after' }),
  ],
  hazards: [
    'Fire: acetone and ethanol vapours ignite; no flame, no hot tip, small amounts, ventilation.',
    'Chlorinated solvents, phenols and hot xylene are not for this bench.',
    LOCAL_RULES,
  ],
  blindSpots:
    'Polyethylene, polypropylene and PET stay as cellulose, minerals and rubber do: “stays” says little. Varnish and glue dissolve like polystyrene.',
  published: [],
  source: 'Solubility of polymers: Brandrup, Immergut & Grulke, Polymer Handbook (from memory, unverified).',
  judge: ({ value, setting }) => {
    if (setting === 'ethanol') {
      if (value === 'dissolves')
        return judged(['soap', 'wax-or-fat'], ['thermoplastic', 'natural-fibre', 'mineral', 'metal']);
      return NOTHING_SAID;
    }
    switch (value) {
      case 'dissolves':
      case 'softens':
        return judged(
          ['thermoplastic', 'semi-synthetic'],
          ['natural-fibre', 'hair-or-silk', 'plant-tissue', 'mineral', 'metal', 'starch-or-sugar'],
        );
      case 'stays':
        return judged([], ['wax-or-fat']);
      default:
        return NOTHING_SAID;
    }
  },
};
