import { either, type Item, no, notHere, times, yes } from './item.ts';

const OURS = 'common practice, no source';

export const RESULT_ITEMS: readonly Item[] = [
  {
    id: 'T1',
    asks: 'Where a material is claimed, tests with written criteria were done.',
    severity: 'blocks',
    anchor: 'Beckingham et al. 2023, s43591-023-00056-4 (abstract)',
    place: 'evidence',
    judge: ({ claim, tests }) =>
      claim.identifiedBy === 'by-eye'
        ? notHere('No material is claimed: the pieces are suspected, by eye.')
        : either(
            tests.pieces > 0,
            `${times(tests.pieces, 'piece')} tested: ${tests.kinds.join(', ')}.`,
            'No test is on record.',
          ),
  },
  {
    id: 'T2',
    asks: 'The operator’s own error rate was measured.',
    severity: 'weakens',
    anchor: 'Beckingham et al. 2023 (abstract); Reiczigel et al. 2010',
    place: 'evidence',
    judge: ({ drills }) =>
      either(
        drills.plastic >= 30 && drills.natural >= 30,
        `${drills.plastic} known plastic and ${drills.natural} natural pieces scored.`,
        `${drills.plastic} plastic and ${drills.natural} natural pieces scored: thirty of each are wanted.`,
      ),
  },
  {
    id: 'T3',
    asks: 'A random part of the pieces was confirmed by a second test.',
    severity: 'weakens',
    anchor: 'Cowger et al. 2024; De Frond et al. 2023 (abstracts)',
    place: 'evidence',
    judge: ({ confirmation: { drawn, tested } }) =>
      drawn === 0
        ? no('No part was drawn at random.')
        : either(
            tested >= drawn,
            `${tested} of ${drawn} drawn pieces tested.`,
            `${tested} of ${drawn} drawn pieces tested: go on.`,
          ),
  },
  {
    id: 'R1',
    asks: 'Raw counts of every run and every control are shown.',
    severity: 'blocks',
    anchor: 'Brander et al. 2020; Cowger et al. 2020 (from memory)',
    place: 'runs',
    judge: ({ runs }) =>
      either(
        runs.some(({ count }) => count !== null),
        'They stand in Runs and in the report.',
        'Nothing is counted yet.',
      ),
  },
  {
    id: 'R2',
    asks: 'The rule of correction is named, and raw and corrected figures stand beside each other.',
    severity: 'blocks',
    anchor: 'Dawson et al. 2023, J. Hazard. Mater. 443:130218 (abstract)',
    place: 'claim',
    judge: ({ claim }) =>
      either(
        claim.interval,
        'Joint model, with other published rules side by side.',
        'There is no corrected figure yet.',
      ),
  },
  {
    id: 'R3',
    asks: 'A limit of detection for counts is given, with its method.',
    severity: 'blocks',
    anchor: 'Lao & Wong 2023 (abstract); Currie 1968',
    place: 'claim',
    judge: ({ claim }) => either(claim.limit, 'It stands with the claim.', 'No limit can be given yet.'),
  },
  {
    id: 'R4',
    asks: 'The net figure has an interval that holds background, recovery, fractions and errors.',
    severity: 'blocks',
    anchor: '2022, ES&T 56:11080 (abstract)',
    place: 'claim',
    judge: ({ claim }) =>
      either(claim.interval, 'It stands with the claim.', 'No interval can be given yet.'),
  },
  {
    id: 'R5',
    asks: 'A count of none never stands alone: upper limit and examined fraction go with it.',
    severity: 'blocks',
    anchor: 'Lao & Wong 2023 (abstract)',
    place: 'claim',
    judge: ({ claim }) =>
      claim.state === 'not-detected'
        ? either(claim.limit, 'The upper limit stands in the sentence.', 'The limit is missing.')
        : notHere('The claim is not of none.'),
  },
  {
    id: 'X1',
    asks: 'The claim is a sentence that the evidence allows.',
    severity: 'blocks',
    anchor: OURS,
    place: 'claim',
    judge: () => yes('It is computed from the state of the records.'),
  },
  {
    id: 'X2',
    asks: 'Originals, marks, plan and deviations can be had by a reader.',
    severity: 'weakens',
    anchor: 'Cowger et al. 2020 (from memory)',
    place: 'claim',
    judge: ({ photos }) =>
      either(
        photos.all > 0,
        'Kept to the byte, with every decision; the study can be packed in open formats.',
        'There is nothing to show yet.',
      ),
  },
];
