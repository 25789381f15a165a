import { USUAL_DENSITY } from '../../study/index.ts';
import { figure, massWords, percent } from '../charts/index.ts';
import type { ReportBehind, ReportFacts } from '../facts.ts';
import { type Block, heading, list, paragraph, type Section } from '../tree.ts';
import { inWords, many, RUN_WORDS, sentence, span } from '../words.ts';

/** Mass from outlines, and whether so much was lost on the balance. */
export function massSection({ behind, study }: ReportFacts): Section | null {
  if (behind === null) return null;
  const { mass } = behind;
  const { confidence } = study.question.decision;
  return {
    id: 'mass',
    title: 'Mass, roughly',
    lead: `Volume of a fragment = 0.34 × shortest Feret × area (Hagelskjær et al. 2025, Microplastics 4(4)); a fibre is a cylinder, a bead a sphere; × density ${USUAL_DENSITY.lowest} to ${USUAL_DENSITY.highest} g/mL (common practice, no source). Each volume is uncertain by a factor of 2.5. Deceives when pieces are flat and lie flat.`,
    blocks: [
      mass.ok
        ? {
            kind: 'facts',
            rows: [
              [
                'All pieces counted with the product',
                span(mass.value.micrograms, massWords),
                `${percent(confidence)} interval; background not taken off`,
              ],
              [
                'Held by the five largest',
                percent(mass.value.topFive),
                `of ${many(mass.value.pieces, 'piece')}`,
              ],
            ],
          }
        : paragraph(sentence(mass.refusal.message)),
      heading('Against what the product lost'),
      ...balanceBlocks(behind),
    ],
  };
}

function balanceBlocks({ balance }: ReportBehind): Block[] {
  if (!balance.ok) return [paragraph(sentence(balance.refusal.message))];
  const { runs, notWeighed, shedUg, lossUg, found } = balance.value;
  const loss = {
    value: lossUg.value,
    lower: lossUg.value - 2 * lossUg.uncertainty,
    upper: lossUg.value + 2 * lossUg.uncertainty,
  };
  return [
    paragraph(found.message),
    {
      kind: 'facts',
      rows: [
        [
          `Shed in ${inWords(runs)}, by the claim`,
          span(shedUg, massWords),
          `${percent(shedUg.confidence)} interval; net per gram × grams × mean mass of a piece`,
        ],
        ['Lost on the balance', span(loss, massWords), 'before − after, ± two standard uncertainties'],
        ...(notWeighed.length > 0 ? [['Not weighed', inWords(notWeighed)] as const] : []),
      ],
    },
  ];
}

/** Two products, pairs within a session, a series of doses, several questions at once: where the records hold them. */
export function otherQuestionsSection({ behind }: ReportFacts): Section | null {
  if (behind === null || behind.comparisons.length === 0) return null;
  return {
    id: 'other-questions',
    title: 'Other questions these records answer',
    blocks: behind.comparisons.flatMap((one): Block[] => [
      heading(one.title),
      paragraph(`${sentence(one.sentence)} ${sentence(one.source)}`),
    ]),
  };
}

/** What the number takes in beside the counts, each with its own uncertainty. */
export function restsOnSection(facts: ReportFacts): Section | null {
  const [first] = facts.specimens;
  if (!first || first.judged === null) return null;
  return {
    id: 'rests-on',
    title: 'What the number rests on',
    blocks: [
      ...varianceBlocks(facts),
      ...lossBlocks(facts),
      ...lookedBlocks(facts),
      heading('Earlier controls of the laboratory'),
      ...historyBlocks(facts.behind?.history ?? []),
    ],
  };
}

const HARDLY = 0.005;

function varianceBlocks({ specimens }: ReportFacts): Block[] {
  const joint = specimens[0]?.judged?.joint;
  if (!joint) return [];
  const parts = [...joint.variance].filter(({ share }) => share >= HARDLY).sort((a, b) => b.share - a.share);
  return [
    heading('Where its uncertainty comes from'),
    list(parts.map(({ source, share }) => `${sentence(source).slice(0, -1)}: ${percent(share)}`)),
  ];
}

function lossBlocks({ specimens }: ReportFacts): Block[] {
  const { judged, input } = specimens[0]!;
  const { recovery, strata = [] } = input.input;
  const used = judged?.joint?.recovery ?? judged?.recovery ?? null;
  if (recovery === null || used === null)
    return [
      heading('Losses'),
      paragraph('What is lost on the way was not measured, or on no run that went this way.'),
    ];
  return [
    heading('Losses'),
    paragraph(
      `${recovery.found} of ${recovery.added} known pieces came back; recovery in the number ${span(used, percent)}${strata.length > 0 ? ', by the sizes of what was counted' : ''}.`,
    ),
    ...(strata.length > 0
      ? [
          list(
            strata.map(({ name, spikes, specimens: on, controls }) => {
              const found = spikes.reduce((sum, one) => sum + one.found, 0);
              const added = spikes.reduce((sum, one) => sum + one.added, 0);
              return `${name}: ${found} of ${added} came back; nearest to ${many(on, 'piece')} of the product, ${controls} of the controls`;
            }),
          ),
        ]
      : []),
  ];
}

/** Runs whose share is not known exactly, or not known at all. */
function lookedBlocks({ runs, specimens }: ReportFacts): Block[] {
  const names = new Set([
    ...specimens[0]!.input.input.portions.map(({ name }) => name),
    ...specimens[0]!.input.input.controls.map(({ name }) => name),
  ]);
  const judged = runs.filter(({ name, extent }) => names.has(name) && extent !== null);
  const unsure = judged.filter(({ extent }) => extent!.together > 0);
  const unsaid = judged.filter(({ extent }) => extent!.passed === null);
  return [
    heading('What was looked at'),
    paragraph(
      `${
        unsure.length === 0
          ? 'Every run that is judged was photographed whole, as far as its volumes are recorded, so that its share is known.'
          : `The share of these runs is known with a relative standard uncertainty: ${unsure.map(({ name, extent }) => `${name} ${percent(extent!.together)}`).join(', ')}. The others were photographed whole.`
      } Taken for it: volumes to 1 % or 0.5 mL, the wetted diameter to 0.3 mm (common practice, no source).${
        unsaid.length === 0
          ? ''
          : ` How much passed is not recorded, and taken as all: ${inWords(unsaid.map(({ name }) => name))}.`
      }`,
    ),
  ];
}

function historyBlocks(history: ReportBehind['history']): Block[] {
  if (history.length === 0)
    return [
      paragraph(
        'None of an earlier study was counted in these sizes: the scatter is learned from these runs alone.',
      ),
    ];
  return [
    {
      kind: 'table',
      caption:
        'They tell how much controls of the same kind scatter within a batch, never how many pieces they hold. Particles in the whole run.',
      columns: [
        { head: 'study', wide: true },
        { head: 'kind' },
        { head: 'particles in each run' },
        { head: 'in the number' },
      ],
      rows: history.map((batch) => [
        batch.study,
        RUN_WORDS[batch.kind],
        batch.runs.map((run) => figure(Math.round(run.count / (run.passed * run.examined)))).join(', '),
        batch.serves ? 'yes' : 'no: another kind',
      ]),
    },
  ];
}
