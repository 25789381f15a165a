import { type BenchTest, judged, NOTHING_SAID, step } from '../bench-test.ts';

export const crossedPolars: BenchTest = {
  id: 'crossed-polars',
  edition: 1,
  name: 'Crossed polars',
  asks: 'What does the piece show between crossed polarising films while it is turned?',
  answer: {
    kind: 'one-of',
    choices: [
      { value: 'cross', words: 'A dark cross that stays as it turns' },
      { value: 'even', words: 'Bright, going dark evenly along its whole length' },
      { value: 'patchy', words: 'Bright in patches, twisted or banded' },
      { value: 'dark', words: 'Dark at every angle' },
    ],
  },
  settings: [],
  errsBy: 'look',
  destroys: false,
  identifies: null,
  needs: 'Two polarising films, light from below, a stage that turns.',
  holds: {
    fromUm: { fragment: 20, fibre: 50 },
    toUm: 2000,
    notOn: [{ word: 'steel', because: 'light must pass through from below: move the piece onto glass' }],
  },
  steps: [
    step('Lay the piece in a drop of water or oil on glass, under a cover slip.'),
    step('Cross the films until the empty field is dark.'),
    step('Turn the piece once round and watch. Photograph it at its brightest.', {
      photo: 'after',
      seconds: 20,
    }),
  ],
  hazards: ['Slides and cover slips break: gloves, and glass in its own bin.'],
  blindSpots:
    'Cotton, wool and many minerals are bright as polyester is; polystyrene and PMMA stay dark as glass and foam do.',
  published: [],
  source:
    'Optical mineralogy and fibre microscopy practice, from memory, unverified. Size limits: common practice, no source.',
  judge: ({ value }) => {
    switch (value) {
      case 'cross':
        return judged(['starch-or-sugar'], ['thermoplastic', 'natural-fibre', 'metal']);
      case 'patchy':
        return judged(['natural-fibre', 'plant-tissue'], []);
      default:
        return NOTHING_SAID;
    }
  },
};
