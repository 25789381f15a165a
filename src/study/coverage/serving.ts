/**
 * Which controls may serve as background for a run: those that repeat every step of it, with nothing beside and in the
 * same order. What is done otherwise, or not at all, lets particles in that the control never saw.
 */
import { fewOf } from '../few-of.ts';
import type { Step } from '../records/procedure.ts';
import type { ControlKind, RunId } from '../records/run.ts';
import { kindOf } from '../step-kinds/index.ts';
import { attributeWords } from './attribute-words.ts';
import { leftOpen } from './closing-control.ts';
import type { Comparison, StepCompared } from './compare.ts';

/** Control runs that did the same, and one of them for its name. */
export interface ControlCompared {
  readonly runs: readonly RunId[];
  readonly name: string;
  readonly kind: ControlKind;
  readonly comparison: Comparison;
}

/** Something that a control would have to do otherwise to serve. */
export interface Change {
  readonly step: string;
  readonly grade: 'different' | 'missing' | 'extra' | 'order';
  /** “reagent lot “K-2” at “digest””: completes “do one more with …”. */
  readonly words: string;
  /** The explanation that stays alive until it is done. */
  readonly leavesOpen: string;
}

export interface Serving {
  readonly control: RunId;
  readonly kind: ControlKind;
  /**
   * Run over control where the control had less of what brings particles (half the reagent: 2); its background is
   * taken so many times. Never below 1: a control that had more is not scaled down, since only a part of its
   * background comes from what it had more of.
   */
  readonly scale: number;
}

export interface RunBackground {
  readonly serving: readonly Serving[];
  /** What scales, in words; what is not recorded on either side, in words. */
  readonly scaled: readonly string[];
  readonly unknown: readonly { readonly step: string; readonly words: string; readonly leavesOpen: string }[];
  /** Where nothing serves: the control that is nearest, and what one more like it has to do otherwise. */
  readonly nearest: {
    readonly name: string;
    readonly kind: ControlKind;
    readonly changes: readonly Change[];
  } | null;
}

/** What keeps a control from serving; empty: it serves. */
export function changesNeeded(comparison: Comparison): readonly Change[] {
  return [
    ...comparison.steps.flatMap(changesOf),
    ...comparison.extra
      .filter((step) => (kindOf(step)?.brings.length ?? 0) > 0)
      .map((step) => ({
        step: step.key,
        grade: 'extra' as const,
        words: `without the step “${step.key}”`,
        leavesOpen: 'what only the control met',
      })),
    ...comparison.swapped.map(([a, b]) => ({
      step: a.key,
      grade: 'order' as const,
      words: `“${a.key}” before “${b.key}”`,
      leavesOpen: 'the order of the steps',
    })),
  ];
}

function changesOf({ step, grade, attributes }: StepCompared): readonly Change[] {
  const brings = kindOf(step)?.brings ?? [];
  if (grade === 'missing') {
    return brings.length === 0
      ? []
      : [
          {
            step: step.key,
            grade: 'missing',
            words: `the step “${step.key}”`,
            leavesOpen: brings.map(leftOpen).join(', '),
          },
        ];
  }
  return attributes
    .filter((attribute) => attribute.grade === 'different')
    .map(({ attribute, run, cause }) => ({
      step: step.key,
      grade: 'different',
      words: `${attributeWords(attribute, run)} at “${step.key}”`,
      leavesOpen: leftOpen(cause),
    }));
}

/** Volumes that pass a filter are carried by the fraction passed; scaling them here would count them twice. */
const carriedElsewhere = (step: Step, attribute: string): boolean =>
  attribute === 'volume_ml' && (kindOf(step)?.makes.includes('passed') ?? false);

function scaleOf(comparison: Comparison): { readonly scale: number; readonly scaled: readonly string[] } {
  const grown = comparison.steps.flatMap(({ step, attributes }) =>
    attributes
      .filter(
        ({ grade, attribute, factor }) =>
          grade === 'scaled' && factor > 1 && !carriedElsewhere(step, attribute),
      )
      .map(({ attribute, factor, run, control }) => ({
        factor,
        words: `${attributeWords(attribute, run)} at “${step.key}” against ${control} in the control`,
      })),
  );
  return {
    scale: Math.max(1, ...grown.map(({ factor }) => factor)),
    scaled: grown.map(({ words }) => words),
  };
}

const unknownOf = ({ steps }: Comparison): RunBackground['unknown'] =>
  steps.flatMap(({ step, attributes }) =>
    attributes
      .filter(({ grade }) => grade === 'unknown')
      .map(({ attribute, cause }) => ({
        step: step.key,
        words: `${attributeWords(attribute, null)} at “${step.key}”`,
        leavesOpen: leftOpen(cause),
      })),
  );

/** The background of one run among controls of the given kinds, the kinds that hold most of the run first. */
export function backgroundOf(
  compared: readonly ControlCompared[],
  kinds: readonly ControlKind[],
): RunBackground {
  const among = compared
    .filter(({ kind }) => kinds.includes(kind))
    .map((control) => ({ ...control, changes: changesNeeded(control.comparison) }));
  const serves = among.filter(({ changes }) => changes.length === 0);
  const nearest = [...among].sort(
    (a, b) => a.changes.length - b.changes.length || kinds.indexOf(a.kind) - kinds.indexOf(b.kind),
  )[0];
  return {
    serving: serves.flatMap(({ runs, kind, comparison }) => {
      const { scale } = scaleOf(comparison);
      return runs.map((control) => ({ control, kind, scale }));
    }),
    scaled: [...new Set(serves.flatMap(({ comparison }) => scaleOf(comparison).scaled))],
    // What one serving control leaves unsaid another may say.
    unknown: serves.length === 0 ? [] : leastUnknown(serves.map(({ comparison }) => unknownOf(comparison))),
    nearest:
      serves.length > 0 || !nearest
        ? null
        : { name: nearest.name, kind: nearest.kind, changes: nearest.changes },
  };
}

const leastUnknown = (lists: readonly RunBackground['unknown'][]): RunBackground['unknown'] =>
  lists.reduce((least, next) => (next.length < least.length ? next : least));

const CALLED: Readonly<Partial<Record<ControlKind, string>>> = {
  'act-control': 'act control',
  'matrix-blank': 'matrix blank',
  'procedural-blank': 'procedural blank',
};
const MOST_NAMED = 3;

/** The control that would serve: “one more act control like C1, but with …”. */
export const oneMoreLike = ({ kind, name, changes }: NonNullable<RunBackground['nearest']>): string =>
  `one more ${CALLED[kind] ?? kind.replaceAll('-', ' ')} like ${name}, but with ${changes.map(({ words }) => words).join(', ')}`;

/** What is to be done so that a run that has no background gets one: the cheapest, which is one more like the nearest. */
export function mendSentence(runs: string | readonly string[], { nearest }: RunBackground): string {
  const names = typeof runs === 'string' ? [runs] : runs;
  const many = names.length > 1;
  const called = many
    ? `Runs ${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`
    : `Run ${names[0] ?? ''}`;
  if (!nearest)
    return `${called} ${many ? 'have' : 'has'} no control at all: do the same without the product.`;
  const { changes, kind, name } = nearest;
  const named = changes.map(({ words }) => words);
  const open = [...new Set(changes.map(({ leavesOpen }) => leavesOpen))].slice(0, MOST_NAMED).join(', ');
  return `${called} ${many ? 'have' : 'has'} no background of ${many ? 'their' : 'its'} own and ${
    many ? 'are' : 'is'
  } left out: ${open} may explain ${many ? 'their' : 'its'} particles. One ${
    CALLED[kind] ?? kind
  } more like ${name}, but with ${fewOf(named, MOST_NAMED, 'more differences')}, closes this.`;
}
