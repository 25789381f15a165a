/** What the form of new runs says, made into what is asked of the server. */
import type { RunChoices, RunJson } from '../../api/index.ts';
import { typedNumber } from '../look/fields.tsx';
import type { Body } from '../server/ask.ts';

export type Kind = RunJson['kind'];

export interface NewRuns {
  readonly kind: Kind;
  readonly names: string;
  readonly how: 'weighed' | 'portion';
  readonly specimen: string;
  readonly masses: string;
  readonly massIs: RunChoices['mass_is'];
  readonly portion: string;
  readonly edition: string;
  readonly on: string;
  readonly session: string;
  readonly by: string;
  readonly added: string;
  readonly colour: string;
  readonly size: string;
  readonly note: string;
}

const CALLED: { readonly [K in Kind]: string } = {
  'specimen-run': 'Run',
  'reagent-blank': 'Reagent blank',
  'procedural-blank': 'Blank',
  'matrix-blank': 'Matrix blank',
  'act-control': 'Act control',
  'air-control': 'Dish',
  'filter-blank': 'Filter blank',
  'spiked-run': 'Spiked run',
  'known-material': 'Known material',
};

/** The next names of a kind that are not taken: “Run 3, Run 4”. */
export function nextNames(kind: Kind, taken: readonly string[], many: number): string {
  const used = new Set(taken.map((name) => name.toLowerCase()));
  const names: string[] = [];
  for (let n = 1; names.length < many; n++) {
    const name = `${CALLED[kind]} ${n}`;
    if (!used.has(name.toLowerCase())) names.push(name);
  }
  return names.join(', ');
}

/** Things apart at commas with a space, semicolons or lines, so that 1,02 stays one number. */
export const parts = (text: string): readonly string[] =>
  text
    .split(/;|\n|,\s+/)
    .map((part) => part.trim())
    .filter((part) => part !== '');

/** The request, or one sentence on what is missing. */
export function runsWish(form: NewRuns): Body<'addRuns'> | string {
  if (form.edition === '')
    return 'A run carries out a procedure: write its steps on the place Procedure first.';
  const names = parts(form.names);
  if (names.length === 0) return 'Names: give each run a name, apart by commas.';
  const shared = {
    kind: form.kind,
    edition: form.edition,
    on: form.on,
    session: form.session.trim() || '1',
    by: form.by,
    note: form.note,
  };
  if (form.kind === 'specimen-run') {
    if (form.how === 'portion') {
      if (form.portion === '') return 'Portion: choose one that is free, or weigh a new one.';
      if (names.length > 1) return 'Names: a portion serves one run; enter them one at a time.';
      return { runs: [{ ...shared, name: names[0]!, portion: form.portion }] };
    }
    if (form.specimen === '') return 'Specimen: enter what is tested on the place Question first.';
    const masses = parts(form.masses).map(typedNumber);
    if (masses.length !== names.length || masses.some((mass) => mass === null || mass <= 0)) {
      return `Masses: ${names.length === 1 ? 'one number' : `${names.length} numbers`} above 0 in grams ${
        names.length === 1 ? 'is' : 'are'
      } needed, one for each name, apart by semicolons.`;
    }
    return {
      runs: names.map((name, at) => ({
        ...shared,
        name,
        weighed: { specimen: form.specimen, mass_g: masses[at]!, mass_is: form.massIs },
      })),
    };
  }
  if (form.kind !== 'spiked-run') return { runs: names.map((name) => ({ ...shared, name })) };
  const added = typedNumber(form.added);
  if (added === null || added < 1 || !Number.isInteger(added))
    return 'Pieces put in: a whole number from 1 is needed.';
  if (form.colour.trim() === '')
    return 'Colour: the known pieces are told by their colour; choose one that nothing else here has.';
  const size = form.size.trim() === '' ? null : typedNumber(form.size);
  if (size !== null && !(size > 0)) return 'Size: a number above 0 in µm is needed, or nothing.';
  const spike = { added, colour: form.colour.trim(), size_um: size };
  return { runs: names.map((name) => ({ ...shared, name, spike })) };
}
