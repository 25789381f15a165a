import { type BenchTest, judged, NOTHING_SAID, step } from '../bench-test.ts';

export const pressOrScratch: BenchTest = {
  id: 'press-or-scratch',
  edition: 1,
  name: 'Press or scratch',
  asks: 'What does the piece do under a needle?',
  answer: {
    kind: 'one-of',
    choices: [
      { value: 'springs', words: 'Springs back or bends without breaking' },
      { value: 'dents', words: 'Takes a dent, cuts like candle wax' },
      { value: 'crumbles', words: 'Crumbles, breaks or goes to pulp' },
      { value: 'hard', words: 'Hard: the needle slides off or it splinters' },
      { value: 'shines', words: 'Shines like metal where scratched' },
    ],
  },
  settings: [],
  errsBy: 'touch',
  destroys: false,
  identifies: null,
  needs: 'A fine steel needle, the microscope, a piece held in a drop of water.',
  holds: { fromUm: { fragment: 100, fibre: 300 }, toUm: 5000, notOn: [] },
  steps: [
    step('Photograph the piece.', { photo: 'before' }),
    step('Press lightly from above with the side of the needle, then let go.', { seconds: 3 }),
    step('Photograph it. Put a piece that broke back onto its place: it can still be tested.', {
      photo: 'after',
    }),
  ],
  hazards: ['Needles: cork on the tip when it is not in the hand.'],
  blindSpots: 'Weathered plastic is brittle and crumbles; gluten, chitin and insect parts spring back.',
  published: [],
  source:
    'Criteria of the trade for sorting by eye (after Norén 2007, as cited by Löder & Gerdts 2015), and common practice, no source.',
  judge: ({ value }) => {
    switch (value) {
      case 'springs':
        return judged(
          ['thermoplastic', 'thermoset-or-rubber'],
          ['mineral', 'metal', 'plant-tissue', 'starch-or-sugar'],
        );
      case 'dents':
        return judged(['wax-or-fat', 'soap'], ['mineral', 'metal']);
      case 'crumbles':
        return judged(['plant-tissue', 'starch-or-sugar', 'mineral'], ['thermoset-or-rubber']);
      case 'hard':
        return judged(['mineral'], ['wax-or-fat', 'soap', 'plant-tissue', 'natural-fibre']);
      case 'shines':
        return judged(['metal'], ['thermoplastic', 'natural-fibre', 'plant-tissue', 'wax-or-fat', 'mineral']);
      default:
        return NOTHING_SAID;
    }
  },
};
