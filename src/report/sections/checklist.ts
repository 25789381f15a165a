import type { CheckedItem, ItemState, Severity } from '../../study/index.ts';
import type { ReportFacts } from '../facts.ts';
import { type Block, heading, paragraph, type Section } from '../tree.ts';
import { many } from '../words.ts';

const STATES: Readonly<Record<ItemState, string>> = {
  done: '✓ there',
  missing: '✗ missing',
  'not-applicable': 'does not apply',
};
const SEVERITIES: Readonly<Record<Severity, string>> = {
  blocks: 'an amount',
  weakens: 'the claim',
  note: 'a note',
};

/** The checklist, filled by itself; what is missing comes first. */
export function checklistSection({ checklist, scores }: ReportFacts): Section {
  const { items } = checklist;
  const of = (state: ItemState) => items.filter((item) => item.state === state).length;
  const order: readonly ItemState[] = ['missing', 'done', 'not-applicable'];
  const grave: readonly Severity[] = ['blocks', 'weakens', 'note'];
  const rank = (item: CheckedItem) => 10 * order.indexOf(item.state) + grave.indexOf(item.severity);
  const sorted = [...items].sort((a, b) => rank(a) - rank(b));
  return {
    id: 'checklist',
    title: 'Checklist of reporting items',
    lead: 'Filled from the records. After published guidelines, in our own words; no conformity with any of them is claimed.',
    blocks: [
      paragraph(
        `${many(of('done'), 'item')} there, ${of('missing')} missing, ${of('not-applicable')} do not apply. There is no single mark: a missing control is not made good by paperwork.`,
      ),
      {
        kind: 'table',
        caption: 'Reporting items; where one is missing, the third column says what hangs on it.',
        columns: [
          { head: 'item', wide: true },
          { head: 'state', tight: true },
          { head: 'hangs on it', tight: true },
          { head: 'the records say', wide: true },
          { head: 'after' },
        ],
        rows: sorted.map((item) => [
          `${item.id} ${item.asks}`,
          STATES[item.state],
          SEVERITIES[item.severity],
          item.says,
          item.anchor,
        ]),
      },
      ...scores.flatMap((score): Block[] => [
        heading(`${score.name}: ${score.total} of ${score.most}`),
        paragraph(
          score.anyNought
            ? 'At least one criterion has 0: by the published rule the study is then not held reliable as a whole.'
            : 'No criterion has 0.',
        ),
        {
          kind: 'table',
          caption: `${score.name}: as far as records can answer; what earns a 1 or a 2 is from memory, unverified.`,
          columns: [{ head: 'criterion' }, { head: 'score', numeric: true }, { head: 'because' }],
          rows: score.criteria.map((one) => [one.name, one.score, one.because]),
        },
      ]),
    ],
  };
}
