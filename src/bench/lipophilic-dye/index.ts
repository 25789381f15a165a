import { type BenchTest, LOCAL_RULES, NOTHING_SAID, step } from '../bench-test.ts';

export const lipophilicDye: BenchTest = {
  id: 'lipophilic-dye',
  edition: 1,
  name: 'Lipophilic dye',
  asks: 'Does the piece shine clearly more than the membrane around it, at the brightness fixed on the blank?',
  answer: { kind: 'yes-no', yes: 'Shines clearly', no: 'Does not shine' },
  settings: [
    { value: 'nile-red', words: 'Nile red, blue light, orange filter' },
    { value: 'other', words: 'Another lipophilic dye' },
  ],
  errsBy: 'stain',
  destroys: false,
  identifies: null,
  needs: 'The dye at a fixed strength, a blue light, a cut-off filter, a stained blank of the same lot.',
  holds: {
    fromUm: { fragment: 20, fibre: 50 },
    toUm: 2000,
    notOn: [
      {
        word: 'cellulose',
        because: 'cellulose membranes take up the dye themselves: stain on glass fibre or polycarbonate',
      },
    ],
  },
  steps: [
    step('Fix exposure and brightness on a stained blank; do not touch them again.'),
    step('Photograph the piece in white light.', { photo: 'before' }),
    step('Set the dye on, cover, keep dark.', { seconds: 600 }),
    step('Rinse, light with blue, photograph through the filter.', { photo: 'after' }),
  ],
  hazards: [
    'The dye and its solvent: gloves, small volumes, no flame. Blue and ultraviolet light: eye shield.',
    LOCAL_RULES,
  ],
  blindSpots:
    'Wood, chitin, fat and soap shine too; dark pieces, PET and tyre rubber hardly do. “Shines” says lipophilic, not plastic.',
  published: [],
  source: 'Staining practice of the trade, from memory, unverified; no rate is carried over.',
  judge: ({ value }) =>
    value === 'yes'
      ? {
          plastic: 'nothing',
          favours: ['thermoplastic', 'wax-or-fat', 'soap', 'plant-tissue', 'hair-or-silk'],
          against: ['mineral', 'metal', 'starch-or-sugar'],
          says: 'Lipophilic: plastic, fat, wax, soap, wood and chitin all shine. Speaks against mineral and starch.',
        }
      : NOTHING_SAID,
};
