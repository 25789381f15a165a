import { figure, netInterval, percent } from '../charts/index.ts';
import type { ReportFacts, ReportSpecimen } from '../facts.ts';
import { type Block, heading, list, paragraph, type Section } from '../tree.ts';
import { RUN_WORDS, sentence, span } from '../words.ts';

/** The sentence, its number, why it is no stronger, and what would move it. */
export function claimSection(facts: ReportFacts): Section {
  const [first, ...others] = facts.specimens;
  if (!first) {
    return {
      id: 'claim',
      title: 'Claim',
      blocks: [{ kind: 'claim', text: 'Nothing was measured: no run of a product is on record.' }],
    };
  }
  const blocks: Block[] = [{ kind: 'claim', text: first.claim.sentence }];
  const chart = netChart(facts);
  if (chart) blocks.push(chart);
  blocks.push({ kind: 'facts', rows: numbers(first) });
  blocks.push(
    heading('Why this sentence'),
    list(first.claim.because.map(({ message }) => sentence(message))),
  );
  if (first.claim.next.length > 0)
    blocks.push(
      heading('What would move it'),
      list(first.claim.next.map(({ message, moves }) => `${sentence(message)} ${sentence(moves)}`)),
    );
  if (others.length > 0)
    blocks.push(
      heading('For comparison'),
      list(others.map(({ specimen, claim }) => `${specimen.name}: ${claim.sentence}`)),
    );
  blocks.push({ kind: 'recount' });
  return { id: 'claim', title: 'Claim', blocks };
}

function netChart({ specimens }: ReportFacts): Block | null {
  const rows = specimens.flatMap(({ specimen, claim: { netPerGram } }, at) =>
    netPerGram === null
      ? []
      : [
          {
            label: specimen.name,
            value: netPerGram.value,
            lower: netPerGram.lower,
            upper: netPerGram.upper,
            main: at === 0,
          },
        ],
  );
  if (rows.length === 0) return null;
  const confidence = specimens[0]!.claim.netPerGram?.confidence ?? 0.95;
  return {
    kind: 'chart',
    svg: netInterval({
      rows,
      unit: 'particles per gram, net of background',
      confidence,
      detectable: null,
      width: 680,
      name: 'net',
    }),
    caption: `Net particles per gram with ${percent(confidence)} interval.`,
    words: rows.map((row) => `${row.label}: ${span(row)} per gram.`).join(' '),
  };
}

/** The numbers that travel with the sentence; one that is not known says so. */
function numbers({ claim, judged, input }: ReportSpecimen): [string, string, string?][] {
  const rows: [string, string, string?][] = [];
  const { netPerGram } = claim;
  rows.push(
    netPerGram === null
      ? ['Net per gram', 'not stated', 'the reasons below say why']
      : ['Net per gram', span(netPerGram), `${percent(netPerGram.confidence)} interval`],
  );
  if (claim.upperLimitPerGram !== null)
    rows.push([
      'No more than, per gram',
      figure(claim.upperLimitPerGram),
      `one-sided upper limit${netPerGram ? `, ${percent(netPerGram.confidence)}` : ''}`,
    ]);
  if (judged !== null) {
    const { controls, thresholds } = judged;
    rows.push(
      [
        'Background of one run',
        span(controls.perRun),
        `${controls.count} on ${controls.runs} ${input.background === null ? 'control' : RUN_WORDS[input.background]}${controls.runs === 1 ? '' : 's'}`,
      ],
      [
        'Counted on the specimen runs',
        `${judged.specimens.count} on ${judged.specimens.runs} runs`,
        `${figure(judged.specimens.massG)} g altogether`,
      ],
      [
        'Least that would be found',
        `${figure(thresholds.detectionPerGram)} per gram`,
        'in 95 of 100 such studies',
      ],
    );
    for (const test of judged.tests.filter((one) => one.primary))
      rows.push(['Chance of this excess by luck', `p = ${figure(test.p)}`, test.name.replaceAll('-', ' ')]);
    const { recovery } = judged;
    rows.push(['Recovery', recovery === null ? 'not measured' : span(recovery, percent)]);
  }
  return rows;
}

/** Other published rules on the same counts. */
export function rulesSection({ specimens }: ReportFacts): Section | null {
  const judged = specimens[0]?.judged;
  if (!judged) return null;
  return {
    id: 'rules',
    title: 'Other published rules on the same counts',
    lead: 'For comparison only; the claim does not rest on them.',
    blocks: [
      {
        kind: 'table',
        caption: 'What other rules read from these counts, in particles per run.',
        columns: [
          { head: 'rule', wide: true },
          { head: 'reads' },
          { head: 'compares', numeric: true, none: 'not workable' },
          { head: 'with', numeric: true, none: 'none' },
          { head: 'deceives when', none: '' },
        ],
        rows: judged.comparison.map((rule) => [
          `${rule.name} (${rule.source})`,
          rule.reads,
          Number.isFinite(rule.value) ? rule.value : null,
          rule.threshold,
          rule.deceives,
        ]),
      },
      ...(judged.cautions.length > 0
        ? [
            heading('Cautions that travel with the number'),
            list(judged.cautions.map(({ message }) => sentence(message))),
          ]
        : []),
    ],
  };
}

export function questionSection({ study: { question }, sizeFromUm }: ReportFacts): Section {
  const to = question.sizeToUm === null ? 'no upper end' : `${figure(question.sizeToUm)} µm`;
  const rows: [string, string, string?][] = [
    ['Product', question.product],
    ['What is done to it', question.act],
    ['For how long', question.durationMin === null ? 'not fixed' : `${figure(question.durationMin)} min`],
    ['Liquid', question.liquid === '' ? 'none named' : question.liquid],
    ['Sizes asked about', `from ${figure(question.sizeFromUm)} µm to ${to}`, 'maximum Feret diameter'],
    ['Answer in', question.unit],
    ['Counts as microplastic', question.countsAs === '' ? 'not written down' : question.countsAs],
    [
      'Decision rule',
      `above the matching controls at ${percent(question.decision.confidence)} confidence`,
      question.decision.matters === null
        ? 'any release matters'
        : `what matters begins at ${figure(question.decision.matters)}`,
    ],
  ];
  const blocks: Block[] = [{ kind: 'facts', rows }];
  if (sizeFromUm > question.sizeFromUm)
    blocks.push(
      paragraph(
        `Pieces from ${figure(question.sizeFromUm)} to ${figure(sizeFromUm)} µm could not have been seen on every photograph; all runs are counted from ${figure(sizeFromUm)} µm. Nothing is said about smaller ones.`,
      ),
    );
  return { id: 'question', title: 'Question', blocks };
}
