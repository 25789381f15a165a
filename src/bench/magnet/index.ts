import { type BenchTest, judged, NOTHING_SAID, step } from '../bench-test.ts';

export const magnet: BenchTest = {
  id: 'magnet',
  edition: 1,
  name: 'Magnet',
  asks: 'Does the piece, in a drop of water, follow a strong magnet under the slide?',
  answer: { kind: 'yes-no', yes: 'Follows the magnet', no: 'Stays where it is' },
  settings: [],
  errsBy: 'magnet',
  destroys: false,
  identifies: null,
  needs: 'A small neodymium magnet, a slide, a drop of water.',
  holds: {
    fromUm: { fragment: 50, fibre: 100 },
    toUm: 5000,
    notOn: [{ word: 'steel', because: 'the sieve itself is drawn: move the piece onto glass' }],
  },
  steps: [
    step('Lay the piece in a drop of water on a slide.'),
    step('Move the magnet slowly under the slide, away and back.', { seconds: 10 }),
  ],
  hazards: ['Strong magnets pinch, and must stay away from pacemakers and cards.'],
  blindSpots: 'Stainless steel and aluminium do not follow; paint and tyre wear with iron oxide do.',
  published: [],
  source: 'Common practice, no source.',
  judge: ({ value }) =>
    value === 'yes'
      ? judged(['metal'], ['natural-fibre', 'plant-tissue', 'wax-or-fat', 'hair-or-silk'])
      : NOTHING_SAID,
};
