import { type BenchTest, judged, LOCAL_RULES, NOTHING_SAID, step } from '../bench-test.ts';

export const heatedNeedle: BenchTest = {
  id: 'heated-needle',
  edition: 1,
  name: 'Heated needle',
  asks: 'What does the piece do when the hot tip comes within a hair of it?',
  answer: {
    kind: 'one-of',
    choices: [
      { value: 'melts', words: 'Melts, sticks or draws a thread' },
      { value: 'curls', words: 'Curls or shrinks towards the tip' },
      { value: 'softens', words: 'Softens a little, no clear melting' },
      { value: 'chars', words: 'Chars, burns or goes to ash' },
      { value: 'nothing', words: 'Nothing happens' },
    ],
  },
  settings: [
    { value: 'tip-350', words: 'Tip held at 350 °C' },
    { value: 'flame', words: 'Needle heated in a flame' },
  ],
  errsBy: 'heat',
  destroys: true,
  identifies: 'melts',
  needs: 'A tip of steady temperature (a fine soldering tip), a glass slide, a microscope.',
  holds: {
    fromUm: { fragment: 100, fibre: 200 },
    toUm: 5000,
    notOn: [
      {
        word: 'nitrate',
        because: 'cellulose nitrate burns fiercely: move the piece onto a glass slide first',
      },
      { word: 'nitrocellulose', because: 'it burns fiercely: move the piece onto a glass slide first' },
      {
        word: 'polycarbonate',
        because: 'the membrane itself melts: move the piece onto a glass slide first',
      },
    ],
  },
  steps: [
    step('Lay the piece on a glass slide. Open no solvent in this room today.'),
    step('Photograph it.', { photo: 'before' }),
    step('Heat the tip and let it settle.', { seconds: 30 }),
    step('Bring the tip close without touching, and watch.', { seconds: 5, noWayBack: true }),
    step('Photograph what is left.', { photo: 'after' }),
  ],
  hazards: [
    'Burns and fire: heat-proof ground, hair tied back, an extinguisher at hand, no solvent in the room.',
    'Fumes: good ventilation; heated PVC and PTFE give off poisonous gases.',
    LOCAL_RULES,
  ],
  blindSpots:
    'Thermosets, rubbers and heavily filled plastics may do nothing; wax, fat, resin and dried sugar melt like plastic (warm water tells them apart); cellulose acetate is the hardest.',
  published: [
    {
      what: 'kept-of-plastic',
      share: 0.9,
      worth: 10,
      source:
        'Beckingham et al. 2023, Microplast. Nanoplast. 3 (abstract): 82–100 % right with written criteria',
    },
    {
      what: 'kept-of-others',
      share: 0.18,
      worth: 10,
      source: 'Beckingham et al. 2023 (abstract): from 82 % right upwards, taken at its worst',
    },
  ],
  source:
    'Beckingham et al. 2023, Microplast. Nanoplast. 3 (rates, criteria); responses by material as in hot-needle guides of the trade, from memory, unverified. Size limits: common practice, no source.',
  judge: ({ value }) => {
    switch (value) {
      case 'melts':
        return judged(
          ['thermoplastic', 'wax-or-fat', 'starch-or-sugar', 'soap'],
          ['natural-fibre', 'hair-or-silk', 'plant-tissue', 'mineral', 'metal', 'semi-synthetic'],
        );
      case 'curls':
        return judged(['thermoplastic'], ['natural-fibre', 'plant-tissue', 'mineral', 'metal']);
      case 'softens':
        return NOTHING_SAID;
      case 'chars':
        return judged(
          ['natural-fibre', 'plant-tissue', 'hair-or-silk', 'semi-synthetic'],
          ['thermoplastic', 'mineral', 'metal'],
        );
      case 'nothing':
        return judged(
          ['mineral', 'metal', 'thermoset-or-rubber', 'semi-synthetic', 'natural-fibre'],
          ['thermoplastic', 'wax-or-fat'],
        );
      default:
        return NOTHING_SAID;
    }
  },
};
