import { MATERIAL_TABLE as table } from './material-table.ts';
import type { Technique } from './spectrum.ts';

/** What a material is to the question of microplastic. `unknown`: the word is in no list. */
export type MaterialKind = 'plastic' | 'semi-synthetic' | 'natural' | 'mineral' | 'unknown';

/** What is known of a family of materials. */
export interface Family {
  readonly family: string;
  readonly kind: MaterialKind;
  readonly names: readonly string[];
  readonly infrared?: readonly number[];
  readonly raman?: readonly number[];
}

/** Where the names and bands come from. */
export const MATERIALS_FROM: Readonly<Record<'infrared' | 'raman' | 'names', string>> = table.from;
const FAMILIES = table.families as readonly Family[];

/** Longest names first, so that “cellulose acetate” is not taken for cellulose. */
const NAMES = FAMILIES.flatMap((family) => family.names.map((name) => ({ name, family })))
  .sort((a, b) => b.name.split(' ').length - a.name.split(' ').length || b.name.length - a.name.length)
  .map((one) => ({ ...one, pattern: new RegExp(` ${one.name}(?:s|es)? `, 'g') }));

/** Lower case, words parted by one blank, and digits set apart from words. */
const plain = (text: string): string =>
  ` ${text
    .replace(/([a-zà-ÿ])([A-Z][a-z])/g, '$1 $2')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim()} `;

export interface NamedFamily {
  readonly family: Family;
  readonly name: string;
}

/**
 * The family that a text names: a material, a title, a file's name. Whole words only; a number behind a short name is
 * passed over (`PE_12`, `pet3`). Null where no name is known, or where the words name two kinds of thing at once.
 */
export function familyNamed(text: string): NamedFamily | null {
  const before = named.get(text);
  if (before !== undefined) return before;
  const found = readFamily(text);
  // The same few names are asked for with every spectrum; what is remembered stays small.
  if (named.size < 2000) named.set(text, found);
  return found;
}

const named = new Map<string, NamedFamily | null>();

function readFamily(text: string): NamedFamily | null {
  let words = plain(text);
  const found: { family: Family; name: string }[] = [];
  for (const { name, family, pattern } of NAMES) {
    const left = words.replace(pattern, ' ');
    if (left !== words) {
      found.push({ family, name });
      words = left;
    }
  }
  if (found.length === 0) {
    const bare = words.replace(/([a-z])[0-9]+[a-z]? /g, '$1 ').replace(/ [0-9]+([a-z]+)/g, ' $1');
    return bare === words ? null : familyNamed(bare);
  }
  const first = found[0]!;
  if (found.every(({ family }) => family.family === first.family.family)) return first;
  // A long name settles it; two short ones side by side do not.
  return first.name.length >= 5 || first.name.includes(' ') ? first : null;
}

/** What is known of a family by its own name or by one of its materials. */
export const knownFamily = (family: string, material = ''): Family | null =>
  FAMILIES.find((f) => f.family.toLowerCase() === family.toLowerCase()) ??
  familyNamed(family)?.family ??
  familyNamed(material)?.family ??
  null;

/** Kind of a material by name: natural and regenerated cellulose share a family and differ here. */
export const kindOf = (material: string, family: string): MaterialKind =>
  familyNamed(material)?.family.kind ?? knownFamily(family)?.kind ?? 'unknown';

/**
 * Families whose labels overlap: an olefin fibre is PE or PP, and cotton in one list is cellulose in another. Neither is a
 * false answer for the other.
 */
export const kin = (a: string, b: string): boolean => {
  if (a === b) return true;
  const known = knownFamily(a)?.family;
  if (known !== undefined && known === knownFamily(b)?.family) return true;
  const parts = (f: string) => f.split(/\s*\/\s*/);
  if (a.includes('/plant') || b.includes('/plant')) return false;
  return (a.includes('/') || b.includes('/')) && parts(a).some((p) => parts(b).includes(p));
};

/** Published bands of a material, else of its family, cm⁻¹; empty where none are in the table. */
export const bandsOf = (family: string, technique: Technique, material = ''): readonly number[] => {
  const own = familyNamed(material)?.family;
  const named = knownFamily(family, material);
  return (
    (own !== undefined && own.family === named?.family ? own[technique] : undefined) ??
    named?.[technique] ??
    []
  );
};

/** Every family with bands for a technique, each once. */
export const familiesWithBands = (technique: Technique): readonly Family[] =>
  FAMILIES.filter((f, k) => f[technique] && FAMILIES.findIndex((g) => g.family === f.family) === k);
