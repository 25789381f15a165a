import { type BenchTest, judged, LOCAL_RULES, NOTHING_SAID, step } from '../bench-test.ts';

/** Most waxes and fats are liquid at this; common plastics are not (some soft ones and PLA soften). */
const WARM_C = 75;

export const warmWater: BenchTest = {
  id: 'warm-water',
  edition: 1,
  name: 'Warm water',
  asks: `What becomes of the piece in water of ${WARM_C} °C after one minute?`,
  answer: {
    kind: 'one-of',
    choices: [
      { value: 'runs', words: 'Runs into a drop or a film' },
      { value: 'dissolves', words: 'Dissolves' },
      { value: 'swells', words: 'Swells or goes to jelly' },
      { value: 'stays', words: 'Stays as it was' },
    ],
  },
  settings: [],
  errsBy: 'solvent',
  destroys: true,
  identifies: null,
  needs: 'A drop of water on a slide on a warm plate, a thermometer.',
  holds: { fromUm: { fragment: 100, fibre: 200 }, toUm: 5000, notOn: [] },
  steps: [
    step('Lay the piece into a drop of filtered water on a slide.'),
    step('Photograph it.', { photo: 'before' }),
    step(`Warm the slide to ${WARM_C} °C and keep it there.`, { seconds: 60, noWayBack: true }),
    step('Photograph it in the drop.', { photo: 'after' }),
  ],
  hazards: ['Hot plate: burns; keep hands clear and let the slide cool.', LOCAL_RULES],
  blindSpots:
    'Polycaprolactone and some soft copolymers run below this; hard waxes (carnauba) melt above it.',
  published: [],
  source: `Melting points: waxes and fats below about ${WARM_C} °C, common plastics above 98 °C (tables of polymer properties; waxes from memory, unverified).`,
  judge: ({ value }) => {
    switch (value) {
      case 'runs':
        return judged(['wax-or-fat'], ['thermoplastic', 'mineral', 'metal', 'natural-fibre', 'plant-tissue']);
      case 'dissolves':
        return judged(
          ['starch-or-sugar', 'soap'],
          ['thermoplastic', 'wax-or-fat', 'mineral', 'metal', 'thermoset-or-rubber'],
        );
      case 'swells':
        return judged(
          ['starch-or-sugar', 'plant-tissue'],
          ['thermoplastic', 'wax-or-fat', 'mineral', 'metal'],
        );
      case 'stays':
        return judged([], ['wax-or-fat', 'soap', 'starch-or-sugar']);
      default:
        return NOTHING_SAID;
    }
  },
};
