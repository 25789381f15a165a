import { figure, percent } from '../charts/index.ts';
import type { ReportFacts } from '../facts.ts';
import type { ReportRound } from '../rounds.ts';
import { type Block, type Cell, heading, paragraph, type Section } from '../tree.ts';
import { inWords, many, moment, span } from '../words.ts';

type Opened = NonNullable<ReportRound['opened']>;

/** Rounds of scoring without knowing, packets to outside readers among them. */
export function roundsSection({ rounds }: Pick<ReportFacts, 'rounds'>): Section {
  return {
    id: 'rounds',
    title: 'Scoring without knowing',
    ...(rounds.length > 0
      ? {
          lead: 'Pictures of runs and controls, mixed and turned, under codes whose key was sealed: its SHA-256 was shown before anybody read, and is the same at the opening.',
        }
      : {}),
    blocks:
      rounds.length === 0
        ? [
            paragraph(
              'No round was sealed: whoever decided on the pieces could know which filter was the product’s, and no second person is on record in a blinded round.',
            ),
          ]
        : rounds.flatMap((round) => [heading(round.name), ...roundBlocks(round)]),
  };
}

function roundBlocks(round: ReportRound): Block[] {
  const blocks: Block[] = [paragraph(statusOf(round))];
  if (round.opened) blocks.push(...openedBlocks(round, round.opened));
  blocks.push({
    kind: 'table',
    caption: 'Who did what to it, and when.',
    columns: [{ head: 'when', tight: true }, { head: 'who' }, { head: 'what', wide: true }],
    rows: [
      [moment(round.sealedAt), round.sealedBy, `sealed; SHA-256 of the key ${round.keyHash}`],
      ...round.events.map(({ at, by, deed, says }): Cell[] => [moment(at), by, deedWords(deed, says)]),
    ],
  });
  return blocks;
}

function deedWords(deed: ReportRound['events'][number]['deed'], says: string): string {
  if (deed === 'predict') return `wrote down before the opening: “${says}”`;
  return (
    { lock: 'locked', open: 'opened', 'take-over': 'taken over as marks' }[deed] + (says ? `: ${says}` : '')
  );
}

function statusOf({ opened, keyIsHere, scorers, third, what }: ReportRound): string {
  const who = `scored by ${inWords(scorers.map(({ name }) => name))}${third ? `, ${third} to settle what they disagree on` : ''}`;
  if (opened) {
    const slipped = opened.slippedIn > 0 ? `, ${many(opened.slippedIn, 'known piece')} among them` : '';
    return `Open: ${many(opened.pictures, what === 'fields' ? 'field' : 'picture')}${slipped}, ${who}.`;
  }
  if (!keyIsHere)
    return `Sealed when the study was packed: its key stayed in the laboratory that drew it, and nothing it may show is in this report; ${who}.`;
  const locked = scorers.filter((one) => one.locked).length;
  return `Sealed: nothing it may show is in this report; ${who}, ${locked} of ${scorers.length} locked.`;
}

function openedBlocks({ what }: ReportRound, opened: Opened): Block[] {
  const { agreement, fields, sides, scorers, populations } = opened;
  const blocks: Block[] = [];
  if (what === 'pieces')
    blocks.push({
      kind: 'table',
      caption:
        'What the pieces were taken for. Undecided ones keep their earlier standing and are carried as a range.',
      columns: [
        { head: 'side' },
        { head: 'plastic', numeric: true },
        { head: 'not plastic', numeric: true },
        { head: 'undecided', numeric: true },
      ],
      rows: sides.map(({ side, plastic, other, undecided }) => [
        side === 'specimen' ? 'runs on the product' : 'controls',
        plastic,
        other,
        undecided,
      ]),
    });
  if (agreement)
    blocks.push({
      kind: 'facts',
      rows: [
        ['Both scorers said the same', `${agreement.same} of ${many(agreement.pictures, 'picture')}`],
        agreement.kappa
          ? ['Cohen’s kappa', span(agreement.kappa), `95 % interval; ${agreement.kappa.word}`]
          : ['Cohen’s kappa', 'not stated', 'only one answer was ever given'],
        ...(agreement.robust
          ? [
              [
                'Gwet’s AC1, which keeps its sense where one answer is rare',
                span(agreement.robust),
                '95 % interval',
              ] as const,
            ]
          : []),
        [
          'Called plastic by the first, the second, both',
          `${agreement.found.first}, ${agreement.found.second}, ${agreement.found.both}`,
          `all there are if the two were independent, a lower bound: ${span(agreement.found.estimate)}, Chapman, 95 % interval`,
        ],
      ],
    });
  if (fields)
    blocks.push({
      kind: 'facts',
      rows: [
        [
          'Pieces found on the fields by the first, the second, both',
          `${fields.first}, ${fields.second}, ${fields.both}`,
          `on ${many(fields.fields, 'field')}`,
        ],
        [
          'All there are, if the two looked independently',
          span(fields.estimate),
          `Chapman, 95 % interval; both missed about ${figure(Math.round(fields.missedByBoth))}`,
        ],
        ...(fields.robust
          ? [['Gwet’s AC1 on pieces that both found', span(fields.robust), '95 % interval'] as const]
          : []),
        ...(fields.sizes
          ? [
              [
                'Length by the first over that by the second',
                `${figure(fields.sizes.ratio)} (${figure(fields.sizes.lower)} to ${figure(fields.sizes.upper)})`,
                `limits that hold 95 % of ${many(fields.sizes.pairs, 'pair')}`,
              ] as const,
            ]
          : []),
      ],
    });
  blocks.push({
    kind: 'table',
    caption:
      'Each scorer: guesses of where a picture is from (the blind leaked where they are right more often than chance allows, p at most 0.05), the same pictures shown twice, known pieces that were slipped in.',
    columns: [
      { head: 'scorer' },
      { head: 'guesses right', none: 'none asked' },
      { head: 'the blind' },
      { head: 'same again', none: 'none twice' },
      { head: 'known plastics called plastic', none: 'none slipped in' },
      { head: 'look-alikes called plastic', none: 'none slipped in' },
    ],
    rows: scorers.map(({ name, leak, repeats, knownPlastic, knownOthers }) => [
      name,
      leak.guessed === 0 ? null : `${leak.right} of ${leak.guessed}, p = ${figure(leak.p)}`,
      leak.guessed === 0 ? 'not known' : leak.leaked ? 'leaked' : 'no sign of a leak',
      tally(repeats.same, repeats.pictures),
      tally(knownPlastic.k, knownPlastic.n),
      tally(knownOthers.k, knownOthers.n),
    ]),
  });
  if (populations && populations.length > 0)
    blocks.push(
      paragraph(
        `Pieces taken for plastic, runs against controls, the runs’ labels handed out anew: ${inWords(populations.map((one) => `${one.what} ${percent(one.distance)} apart (p = ${figure(one.adjusted)} after Holm)`))}.`,
      ),
    );
  return blocks;
}

const tally = (k: number, n: number): string | null => (n === 0 ? null : `${k} of ${n}`);
