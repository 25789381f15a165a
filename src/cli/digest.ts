import {
  adviseDigestion,
  COUPON_VERDICTS,
  type CouponVerdict,
  type DigestionAdvice,
  type DigestionOption,
  EQUIPMENT,
  type Equipment,
  judgeCoupon,
  MATRICES,
  MATRIX_FACTS,
  type Matrix,
  POLYMER_WORDS,
  type PolymerGroup,
  SETTINGS,
  type Setting,
} from '../science/digestion/index.ts';
import { SAFETY_FIRST, SAFETY_QUESTIONS } from '../study/index.ts';
import { done, type Grams, type Outcome, refused } from '../units/index.ts';
import { wrapped } from './claim-words.ts';
import { STATUS, type Status } from './misuse.ts';
import { figure, list } from './page-words.ts';
import { tellRefusal } from './refusal.ts';
import type { Terminal } from './tools.ts';

export interface DigestOptions {
  readonly polymer: readonly PolymerGroup[];
  readonly setting: Setting;
  readonly have: readonly Equipment[];
  readonly mass?: Grams;
  readonly coupon?: Coupon;
  readonly balance?: Grams;
  readonly changed?: boolean;
  readonly json?: boolean;
}

type Pair = readonly [before: number, after: number];
interface Coupon {
  readonly pieces: Pair;
  readonly massMg: Pair | null;
  readonly areaMm2: Pair | null;
}

/** `10:10`, `10:10,25.1:24.9` or `10:10,25.1:24.9,38:37.5`: pieces, mg and mm², before and after; `-` where not measured. */
export function readCoupon(text: string): Outcome<Coupon> {
  const parts = text.split(',').map((part) => {
    if (part.trim() === '-') return null;
    const [before, after, more] = part.split(':').map(Number);
    return more === undefined && before! > 0 && after! >= 0 ? ([before!, after!] as const) : undefined;
  });
  const [pieces, massMg = null, areaMm2 = null] = parts;
  if (!pieces || parts.includes(undefined) || parts.length > 3 || !pieces.every(Number.isInteger))
    return refused({
      why: 'no-coupon',
      message: `“${text}” is no coupon: pieces before and after, such as 10:10, then mg and mm² where measured, such as 10:10,25.1:24.9,38:37.5.`,
    });
  return done({ pieces, massMg: massMg ?? null, areaMm2: areaMm2 ?? null });
}

const oneOf =
  <T extends string>(what: string, known: readonly T[]) =>
  (text: string): Outcome<T> => {
    const found = known.find((one) => one.toLowerCase() === text.trim().toLowerCase());
    return found !== undefined
      ? done(found)
      : refused({ why: 'not-known', message: `“${text}” is not a known ${what}: ${known.join(', ')}.` });
  };
export const readPolymer = oneOf('polymer', Object.keys(POLYMER_WORDS) as PolymerGroup[]);
export const readSetting = oneOf('place', SETTINGS);
export const readEquipment = oneOf('piece of equipment', EQUIPMENT);

/** `retentate digest`: options for a matrix, what each does to the polymers and to the blank; without a matrix, the list of them. */
export function digest(matrix: string | undefined, options: DigestOptions, terminal: Terminal): Status {
  const refuse = (why: string, message: string): Status => tellRefusal({ why, message }, options, terminal);
  const verdict = options.coupon
    ? judgeCoupon({
        ...options.coupon,
        balanceMg: options.balance ? 1000 * options.balance : USUAL_BALANCE_MG,
        looksChanged: options.changed ?? false,
      })
    : null;
  if (matrix === undefined && verdict) {
    terminal.out(
      options.json
        ? `${JSON.stringify({ format: 'retentate/coupon/1', ...verdict })}\n`
        : `${wrapped(couponWords(verdict), '', '')}\n`,
    );
    return STATUS.done;
  }
  if (matrix === undefined) {
    const lines = MATRICES.map(
      (one) => `  ${one.padEnd(14)}${MATRIX_FACTS[one].name}: ${MATRIX_FACTS[one].first}`,
    );
    terminal.out(
      options.json
        ? `${JSON.stringify({ format: 'retentate/matrices/1', matrices: MATRICES.map((one) => MATRIX_FACTS[one]) })}\n`
        : `What is to be digested:\n\n${lines.join('\n')}\n\nOptions for one: retentate digest plant --polymer PE --mass 2g\n`,
    );
    return STATUS.done;
  }
  const known = oneOf<Matrix>('matrix', MATRICES)(matrix);
  if (!known.ok) return refuse(known.refusal.why, known.refusal.message);
  const made = adviseDigestion({
    matrix: known.value,
    polymers: options.polymer,
    setting: options.setting,
    equipment: options.have.length > 0 ? options.have : null,
    massG: options.mass ?? null,
  });
  if (!made.ok) return refuse(made.refusal.why, made.refusal.message);
  terminal.out(
    options.json
      ? `${JSON.stringify({ ...digestJson(made.value), coupon_verdict: verdict })}\n`
      : `${digestWords(made.value)}${verdict ? `\n${wrapped(couponWords(verdict), '', '')}\n` : ''}`,
  );
  return STATUS.done;
}

/** A kitchen balance; a laboratory's reads finer. Common practice, no source. */
const USUAL_BALANCE_MG = 1;

const couponWords = ({ verdict, message }: CouponVerdict): string =>
  `The coupon is ${COUPON_VERDICTS[verdict]}. ${message}`;

const digestJson = ({ matrix, options, avoid, coupon }: DigestionAdvice) => ({
  format: 'retentate/digest/1',
  matrix: {
    matrix: matrix.matrix,
    name: matrix.name,
    first: matrix.first,
    watch: matrix.watch,
    backing: matrix.backing,
  },
  options: options.map((option) => ({
    reagent: option.facts.reagent,
    name: option.facts.name,
    standing: option.standing,
    because: option.because,
    lacking: option.lacking,
    amount: option.facts.amount,
    volume_ml: option.volumeMl,
    ceiling_c: option.facts.ceilingC,
    hours: option.facts.hours,
    blank: option.facts.blank,
    harm: option.harm.map(({ polymer, cell }) => ({ polymer, ...cell })),
    go_no_go: option.goNoGo,
    cautions: option.facts.cautions,
    backing: option.facts.backing,
  })),
  avoid: avoid.map(({ facts }) => ({ reagent: facts.reagent, name: facts.name, backing: facts.backing })),
  coupon,
  safety_questions: SAFETY_QUESTIONS,
  first: SAFETY_FIRST,
});

const STANDING: Readonly<Record<DigestionOption['standing'], string>> = {
  open: 'OPEN TO YOU',
  'not-asked': 'OPEN WITH THE EQUIPMENT',
  'needs-equipment': 'LACKS EQUIPMENT',
  harms: 'HARMS THE SUSPECT',
  'not-here': 'NOT HERE',
};

function digestWords({ matrix, options, avoid, coupon }: DigestionAdvice): string {
  return [
    `${wrapped(`${upper(matrix.name)}. ${matrix.first}`, '', '')}\n${wrapped(matrix.watch, '', '')}\n`,
    ...options.map(optionWords),
    ...(options.some(({ standing }) => standing === 'not-asked')
      ? [`\n${wrapped('Say what is at hand with --have, and what is lacking is named.', '', '')}\n`]
      : []),
    list(
      'Leave alone',
      avoid.map(({ facts }) => `${facts.name} (${facts.backing.from})`),
    ),
    list('A coupon: does it delete the suspect?', coupon),
    list(
      'Before anything with a reagent is called ready, answer in writing',
      Object.values(SAFETY_QUESTIONS),
    ),
    `\n${wrapped(SAFETY_FIRST, '', '')}\n`,
  ].join('');
}

function optionWords(option: DigestionOption): string {
  const { facts } = option;
  const volume =
    option.volumeMl === null || option.volumeMl === 0 ? '' : ` (${figure(option.volumeMl)} mL here)`;
  const time = facts.hours === null ? '' : `${figure(facts.hours[0])} to ${figure(facts.hours[1])} h`;
  const heat = facts.ceilingC === null ? '' : `at most ${facts.ceilingC} °C`;
  const of = (harm: string) =>
    option.harm
      .filter(({ cell }) => cell.harm === harm)
      .map(({ polymer, cell }) => `${polymer}${cell.backing.seen === 'memory' ? '*' : ''}`)
      .join(' ');
  const row = (name: string, text: string) =>
    text === '' ? '' : `${wrapped(`${name.padEnd(10)}${text}`, '  ', '            ')}\n`;
  return [
    `\n[${STANDING[option.standing]}] ${facts.name}\n`,
    row('', ''),
    option.because === null ? '' : `${wrapped(option.because, '  ', '  ')}\n`,
    row('does', facts.does),
    row('amount', `${facts.amount}${volume}`),
    row('limits', [heat, time].filter(Boolean).join(', ')),
    row('survive', of('ok')),
    row('at risk', of('caution')),
    row('harmed', of('harm')),
    row('blank', facts.blank),
    ...facts.cautions.map((one) => row('care', one)),
    row(
      'source',
      `${facts.backing.from}${option.harm.some(({ cell }) => cell.backing.seen === 'memory') ? '; * from memory, unverified' : ''}`,
    ),
  ].join('');
}

const upper = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
