import { pathTo } from '../app/where.ts';
import { PlaceHead } from '../look/parts.tsx';
import { BrineTable } from './brine-table.tsx';
import { DigestionTable } from './digestion-table.tsx';
import { FlowTable } from './flow-table.tsx';
import './liquids.css';
import { SettlingTable } from './settling-table.tsx';
import { LIQUID_TABLES, type LiquidTable } from './tables.ts';

const NAMES: Readonly<Record<LiquidTable, readonly [name: string, asks: string]>> = {
  filter: ['Filter', 'When will this filter be full, and how many do I need?'],
  settle: ['Settle', 'What is at the bottom, what floats, what is in between?'],
  float: ['Float', 'Which brine lifts which plastic, and how is it made?'],
  digest: ['Digest', 'What takes the food away and leaves the plastic?'],
};

/** Four bench questions about liquids, worked out at once in the page; nothing is stored. */
export function LiquidsPage({ table }: { table: string | null }) {
  const chosen = LIQUID_TABLES.find((one) => one === table) ?? 'filter';
  return (
    <div className="page liquids">
      <PlaceHead
        title="Liquids"
        lead="Four questions of the bench, answered as you type. Nothing here is stored: enter what you did in the run."
      />
      <nav aria-label="Questions about liquids">
        <ul className="liquid-choice">
          {LIQUID_TABLES.map((one) => (
            <li key={one}>
              <a
                href={pathTo({ page: 'liquids', table: one })}
                aria-current={one === chosen ? 'page' : undefined}
              >
                <strong>{NAMES[one][0]}</strong>
                <span>{NAMES[one][1]}</span>
              </a>
            </li>
          ))}
        </ul>
      </nav>
      {chosen === 'filter' ? <FlowTable /> : null}
      {chosen === 'settle' ? <SettlingTable /> : null}
      {chosen === 'float' ? <BrineTable /> : null}
      {chosen === 'digest' ? <DigestionTable /> : null}
    </div>
  );
}
