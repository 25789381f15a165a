import { percent, rateBars, type Way, waysToJudge } from '../charts/index.ts';
import type { ReportFacts } from '../facts.ts';
import { type Block, heading, paragraph, type Section } from '../tree.ts';
import { span } from '../words.ts';

/** How well pieces are told, and whether the claim hangs on one choice. */
export function evidenceSection(facts: ReportFacts): Section {
  return {
    id: 'evidence',
    title: 'How sure the pieces and the claim are',
    blocks: [...drillBlocks(facts), ...confirmedBlocks(facts), ...wayBlocks(facts)],
  };
}

function drillBlocks({ evidence: { drills } }: ReportFacts): Block[] {
  if (drills.length === 0)
    return [
      paragraph(
        'The scorer was not tried on known pieces: how often a natural piece is kept, or a plastic one dropped, is not known and is not in the number.',
      ),
    ];
  const lines = drills.flatMap(({ test, plastic, others }) => [
    {
      name: `plastic, ${test.replaceAll('-', ' ')}`,
      rate: plastic.rate,
      says: `${plastic.k} of ${plastic.n}`,
      wants: 'high' as const,
    },
    {
      name: `not plastic, ${test.replaceAll('-', ' ')}`,
      rate: others.rate,
      says: `${others.k} of ${others.n}`,
      wants: 'low' as const,
    },
  ]);
  return [
    heading('The scorer on known pieces'),
    {
      kind: 'chart',
      svg: rateBars(lines, 680, 'The scorer on known pieces'),
      caption:
        'How often known pieces were called plastic, with 95 % intervals; an empty line was not tried.',
      words: lines
        .map((line) => `${line.name}: ${line.says}${line.rate ? `, ${span(line.rate, percent)}` : ''}.`)
        .join(' '),
    },
  ];
}

function confirmedBlocks({ evidence: { confirmed } }: ReportFacts): Block[] {
  if (confirmed.length === 0)
    return [
      paragraph('No random part of the counted pieces was put to another test: they are suspected, by eye.'),
    ];
  return [
    heading('A random part, tested otherwise'),
    {
      kind: 'table',
      caption: 'Share of counted pieces that are what is claimed, from a part drawn at random.',
      columns: [
        { head: 'test' },
        { head: 'side' },
        { head: 'tested', numeric: true },
        { head: 'passed', numeric: true },
        { head: 'share' },
      ],
      rows: confirmed.map((one) => [
        one.test.replaceAll('-', ' '),
        one.side,
        one.tested,
        one.passed,
        span(one.share, percent),
      ]),
    },
  ];
}

function wayBlocks({ robustness }: ReportFacts): Block[] {
  if (robustness === null) return [];
  const rows = [robustness.base, ...robustness.rows];
  const ways = rows.flatMap((row, at): Way[] =>
    row.netPerGram === null || row.above === null
      ? []
      : [
          {
            label: `${row.what}: ${row.choice}`,
            value: row.netPerGram.value,
            lower: row.netPerGram.lower,
            upper: row.netPerGram.upper,
            above: row.above,
            agrees: row.agrees,
            base: at === 0,
          },
        ],
  );
  const others = robustness.rows.filter((row) => row.above !== null && !row.agrees);
  const blocks: Block[] = [
    heading('Does the claim hang on one choice?'),
    paragraph(
      `${robustness.agreeing} of ${robustness.judged} defensible ways of judging the same records read as the claim does${others.length === 0 ? '.' : `; otherwise read: ${others.map((row) => `${row.what} ${row.choice}`).join('; ')}.`}`,
    ),
  ];
  if (ways.length > 0)
    blocks.push({
      kind: 'chart',
      svg: waysToJudge({ ways, unit: 'net per gram', width: 680, name: 'ways' }),
      caption:
        'The claim under every defensible choice, lowest net first; filled where it stands above the background.',
      words: ways
        .map((way) => `${way.label}: ${span(way)}${way.agrees ? '' : ', reads otherwise'}.`)
        .join(' '),
    });
  return blocks;
}
