/** What one edition of a procedure changed of another, as a list of sentences. */
import type { Step, TOUCHES } from './records/procedure.ts';
import { kindOf } from './step-kinds/index.ts';

const CALLED: Readonly<Record<(typeof TOUCHES)[number], string>> = {
  vessel: 'vessel',
  tool: 'tool',
  liquid: 'liquid',
  reagentLot: 'reagent lot',
  place: 'place',
  person: 'person',
  filterLot: 'filter lot',
  optics: 'optics',
};

const UNITS: Readonly<Record<string, string>> = {
  ml: 'mL',
  g: 'g',
  mg: 'mg',
  c: '°C',
  um: 'µm',
  mm: 'mm',
  cm: 'cm',
  s: 's',
  rpm: 'rpm',
  percent: '%',
  w: 'W',
  kpa: 'kPa',
};

/** 400 of volume_ml → “400 mL”; minutes and times in words. */
export function amountWords(name: string, amount: number): string {
  if (name === 'minutes') {
    if (amount >= 1440 && amount % 1440 === 0) return amount === 1440 ? '1 day' : `${amount / 1440} days`;
    return amount >= 120 && amount % 60 === 0 ? `${amount / 60} h` : `${amount} min`;
  }
  if (name === 'times') return amount === 1 ? 'once' : amount === 2 ? 'twice' : `${amount} times`;
  const unit = UNITS[name.slice(name.lastIndexOf('_') + 1)];
  return unit ? `${amount} ${unit}` : `${amount}`;
}

const named = (step: Step): string => `“${step.key}”`;
const quoted = (value: string | null): string => (value === null ? 'not said' : `“${value}”`);

/** A step in one line for people: “Digest: 400 mL, 2 days, 40 °C”. */
export function stepWords(step: Step): string {
  const amounts = Object.entries(step.quantities).map(([name, amount]) => amountWords(name, amount));
  const says = kindOf(step)?.says ?? step.kind;
  return amounts.length === 0 ? says : `${says}: ${amounts.join(', ')}`;
}

function stepChanges(before: Step, after: Step): string[] {
  const out: string[] = [];
  const at = `Step ${named(after)}`;
  if (before.kind !== after.kind) out.push(`${at} is now “${after.kind}” instead of “${before.kind}”.`);
  const names = new Set([...Object.keys(before.quantities), ...Object.keys(after.quantities)]);
  for (const name of names) {
    const [x, y] = [before.quantities[name], after.quantities[name]];
    if (x === y) continue;
    const label = kindOf(after)?.quantities.find((q) => q.name === name)?.label ?? name;
    const [from, to] = [x, y].map((v) => (v === undefined ? 'not said' : amountWords(name, v)));
    out.push(`${at}: ${label} ${to} instead of ${from}.`);
  }
  for (const [what, called] of Object.entries(CALLED)) {
    const touch = what as (typeof TOUCHES)[number];
    const [x, y] = [before.touches[touch], after.touches[touch]];
    if (x !== y) out.push(`${at}: ${called} ${quoted(y)} instead of ${quoted(x)}.`);
  }
  if (before.minutesUncovered !== after.minutesUncovered) {
    const [x, y] = [before, after].map(({ minutesUncovered: m }) => (m === null ? 'not said' : `${m} min`));
    out.push(`${at}: stands open ${y} instead of ${x}.`);
  }
  if (before.openings !== after.openings) {
    const [x, y] = [before, after].map(({ openings: n }) => (n === null ? 'not said' : `${n} times`));
    out.push(`${at}: opened ${y} instead of ${x}.`);
  }
  if (before.note !== after.note) out.push(`${at}: its note was changed.`);
  return out;
}

/** Keys stay through editions, so steps are followed by key; what moved among those that stay is said once for each. */
export function editionChanges(before: readonly Step[], after: readonly Step[]): readonly string[] {
  const old = new Map(before.map((step) => [step.key, step]));
  const now = new Set(after.map((step) => step.key));
  const out: string[] = [];
  for (const step of before) if (!now.has(step.key)) out.push(`Step ${named(step)} is left out.`);
  after.forEach((step, at) => {
    const was = old.get(step.key);
    if (was) out.push(...stepChanges(was, step));
    else {
      const behind = after[at - 1];
      out.push(
        `A step ${named(step)} (${stepWords(step)}) is put in ${behind ? `after ${named(behind)}` : 'at the start'}.`,
      );
    }
  });
  for (const key of movedKeys(before, after)) {
    const at = after.findIndex((step) => step.key === key);
    const behind = after[at - 1];
    out.push(`Step “${key}” now comes ${behind ? `after ${named(behind)}` : 'first'}.`);
  }
  return out;
}

/** The fewest steps whose moving turns one order into the other: those outside the longest run that kept its order. */
function movedKeys(before: readonly Step[], after: readonly Step[]): readonly string[] {
  const place = new Map(before.map((step, at) => [step.key, at]));
  const staying = after.filter((step) => place.has(step.key)).map((step) => step.key);
  const best: string[][] = [];
  for (const [at, key] of staying.entries()) {
    let chain: string[] = [];
    for (const earlier of best.slice(0, at)) {
      const last = earlier[earlier.length - 1]!;
      if (place.get(last)! < place.get(key)! && earlier.length > chain.length) chain = earlier;
    }
    best.push([...chain, key]);
  }
  const kept = new Set(best.reduce<string[]>((a, b) => (b.length > a.length ? b : a), []));
  return staying.filter((key) => !kept.has(key));
}
