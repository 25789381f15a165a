import { type CheckedItem, type ItemState, reportingChecklist, type Severity } from '../checklist.ts';
import type { ReportFacts } from '../facts.ts';
import { paragraph, type Section } from '../tree.ts';
import { many } from '../words.ts';

const STATES: Readonly<Record<ItemState, string>> = {
  met: '✓ met',
  partly: '◐ partly',
  missing: '✗ missing',
  'does-not-apply': 'does not apply',
};
const SEVERITIES: Readonly<Record<Severity, string>> = {
  blocks: 'an amount',
  weakens: 'the claim',
  note: 'nothing',
};

/** The checklist, filled by itself; what is missing comes first. */
export function checklistSection(facts: ReportFacts): Section {
  const items = reportingChecklist(facts);
  const of = (state: ItemState) => items.filter((item) => item.state === state);
  const order: readonly ItemState[] = ['missing', 'partly', 'met', 'does-not-apply'];
  const grave = (item: CheckedItem) => (item.severity === 'blocks' ? 0 : 1);
  const sorted = [...items].sort(
    (a, b) => order.indexOf(a.state) - order.indexOf(b.state) || grave(a) - grave(b),
  );
  return {
    id: 'checklist',
    title: 'Checklist of reporting items',
    lead: 'Filled from the records. After published guidelines, in our own words; no conformity with any of them is claimed.',
    blocks: [
      paragraph(
        `${many(of('met').length, 'item')} met, ${of('partly').length} partly, ${of('missing').length} missing. There is no single mark: a missing control is not made good by paperwork.`,
      ),
      {
        kind: 'table',
        caption:
          'Reporting items. A missing item that an amount hangs on keeps the claim from being an amount.',
        columns: [
          { head: 'item', wide: true },
          { head: 'state', tight: true },
          { head: 'what hangs on it' },
          { head: 'the records say' },
          { head: 'after' },
        ],
        rows: sorted.map((item) => [
          `${item.id} ${item.item}`,
          STATES[item.state],
          SEVERITIES[item.severity],
          item.says,
          item.after,
        ]),
      },
    ],
  };
}
