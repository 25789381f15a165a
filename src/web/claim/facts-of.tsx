import { figure } from '../../report/index.ts';

/**
 * Figures whose names the engine decides, as a list of definitions: the name made readable, its unit kept, null said as
 * “not known”. Nothing is left out, so what a method states is on the page the day it states it.
 */
export function FactsOf({ given, without = [] }: { given: object; without?: readonly string[] }) {
  const shown = Object.entries(given).filter(([name]) => !without.includes(name));
  if (shown.length === 0) return <p>Not known yet.</p>;
  return (
    <dl className="plain-facts">
      {shown.map(([name, value]) => (
        <div key={name}>
          <dt>{readable(name)}</dt>
          <dd>{inWords(value)}</dd>
        </div>
      ))}
    </dl>
  );
}

const UNITS: readonly (readonly [ending: string, words: string])[] = [
  ['_per_gram', ' per gram'],
  ['_per_run', ' per run'],
  ['_um2', ' (µm²)'],
  ['_um', ' (µm)'],
  ['_mm', ' (mm)'],
  ['_ml', ' (mL)'],
  ['_g', ' (g)'],
];

/** `decision_count` → “decision count”, `net_um` → “net (µm)”. */
export function readable(name: string): string {
  const unit = UNITS.find(([ending]) => name.endsWith(ending));
  const stem = unit ? name.slice(0, -unit[0].length) : name;
  const words = stem.replaceAll(/[_-]+/g, ' ').trim();
  return words.charAt(0).toUpperCase() + words.slice(1) + (unit?.[1] ?? '');
}

export function inWords(value: unknown): string {
  if (value === null || value === undefined) return 'not known';
  if (typeof value === 'number') return Number.isFinite(value) ? figure(value) : 'not known';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map(inWords).join(', ');
  if (typeof value === 'object') {
    return Object.entries(value)
      .map(([name, inner]) => `${readable(name).toLowerCase()} ${inWords(inner)}`)
      .join(', ');
  }
  return String(value);
}
