import {
  besideRatio,
  COMPARABILITY_QUESTIONS,
  COMPARABILITY_RULES,
  publishedSentence,
} from '../../study/index.ts';
import { figure, percent } from '../charts/index.ts';
import type { ReportFacts } from '../facts.ts';
import { type Block, heading, paragraph, type Section } from '../tree.ts';
import { moment } from '../words.ts';

type Held = ReportFacts['published'][number];

const ANSWERS = [
  ['same', 'The same as here'],
  ['different', 'Different'],
  ['not-stated', 'Not stated'],
] as const;

/** The questions under each answer; an answer that nobody gave has no row. */
const answersOf = ({ answers }: Held['value']): [string, string][] =>
  ANSWERS.flatMap(([answer, words]): [string, string][] => {
    const asked = COMPARABILITY_QUESTIONS.filter((key) => answers[key] === answer);
    return asked.length === 0
      ? []
      : [[words, asked.map((key) => COMPARABILITY_RULES[key].asks.split(':')[0]!.toLowerCase()).join('; ')]];
  });

function spreadWords({ spread }: Held['value']): string {
  if (spread.kind === 'none') return 'no interval published';
  return spread.kind === 'interval'
    ? `${figure(spread.lower)} to ${figure(spread.upper)}, ${percent(spread.confidence)} interval`
    : `standard deviation ${figure(spread.sd)} between ${spread.runs} runs`;
}

function sizesStated({ sizeFromUm, sizeToUm }: Held['value']): string {
  if (sizeFromUm === null) return 'not stated';
  return sizeToUm === null
    ? `${figure(sizeFromUm)} µm and more`
    : `${figure(sizeFromUm)} to ${figure(sizeToUm)} µm`;
}

function blocksOf(held: Held): Block[] {
  const { value } = held;
  const beside = besideRatio(held.comparability);
  return [
    heading(value.source),
    paragraph(`${publishedSentence(held)}${beside === '' ? '' : ` ${beside}`}`),
    {
      kind: 'facts',
      rows: [
        ['Published, per gram', figure(value.perGram), spreadWords(value)],
        ['Published sizes', sizesStated(value)],
        ...answersOf(value),
        ['Answered by', held.by === '' ? 'somebody' : held.by, moment(value.at)],
      ],
    },
    ...(value.note === '' ? [] : [paragraph(value.note)]),
  ];
}

/** The study held against published values; none is set beside it without the questions that make it comparable. */
export function publishedSection({ published }: ReportFacts): Section | null {
  if (published.length === 0) return null;
  return {
    id: 'published',
    title: 'Held against published values',
    lead: 'A ratio is given only over sizes counted in both, and only where the answers allow it. Ratio of two rates by limits of their difference (Donner & Zou 2012, Stat. Methods Med. Res. 21:347).',
    blocks: published.flatMap(blocksOf),
  };
}
