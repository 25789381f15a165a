import type { StepKind } from '../step-kinds/index.ts';
import type { PersonId } from './laboratory.ts';
import { amountsProblem } from './possible-step.ts';
import {
  aName,
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  listOf,
  maker,
  notNegative,
  number,
  orNull,
  type Rule,
  record,
  text,
} from './rules.ts';
import { aStepKind } from './step-kind.ts';
import type { StudyId } from './study.ts';

export type ProcedureId = Id<'procedure'>;
export type EditionId = Id<'edition'>;

/** What a step touches; null where it touches no such thing or nobody has said. */
export interface Touches {
  readonly vessel: string | null;
  readonly tool: string | null;
  readonly liquid: string | null;
  readonly reagentLot: string | null;
  readonly place: string | null;
  readonly person: string | null;
  readonly filterLot: string | null;
  readonly optics: string | null;
}
export const TOUCHES = [
  'vessel',
  'tool',
  'liquid',
  'reagentLot',
  'place',
  'person',
  'filterLot',
  'optics',
] as const;

/** One action of a known kind; quantities carry their unit in the name (volume_ml, temperature_c). */
export interface Step {
  /** Declaration of its kind where that is the laboratory's own; left out for the known kinds. */
  readonly own?: StepKind | null | undefined;
  /** Stays the same through editions: "cut", "rinse-2". */
  readonly key: string;
  readonly kind: string;
  readonly quantities: { readonly [name: string]: number };
  readonly touches: Touches;
  readonly minutesUncovered: number | null;
  readonly openings: number | null;
  readonly note: string;
}

const touched: Rule = orNull(text(1, 200));

const quantities: Rule = (value, what) => {
  if (typeof value !== 'object' || value === null) {
    return { why: 'not-a-record', message: `${what}: named quantities are needed; given ${String(value)}.` };
  }
  for (const [name, amount] of Object.entries(value)) {
    if (typeof amount !== 'number' || !Number.isFinite(amount)) {
      return {
        why: 'out-of-range',
        message: `${what}, ${name}: a number is needed; given ${String(amount)}.`,
      };
    }
  }
  return null;
};

const orNothing =
  (rule: Rule): Rule =>
  (value, what) =>
    value === undefined || value === null ? null : rule(value, what);

export const aStep: Rule = (value, what) =>
  record<Step>({
    own: orNothing(aStepKind),
    key: text(1, 60),
    kind: text(1, 60),
    quantities,
    touches: record<Touches>({
      vessel: touched,
      tool: touched,
      liquid: touched,
      reagentLot: touched,
      place: touched,
      person: touched,
      filterLot: touched,
      optics: touched,
    }),
    minutesUncovered: orNull(notNegative),
    openings: orNull(number({ from: 0, whole: true })),
    note: aNote,
  })(value, what);

export interface Procedure {
  readonly id: ProcedureId;
  readonly study: StudyId;
  readonly name: string;
}

export const makeProcedure = maker<Procedure>('procedure', { id: anId, study: anId, name: aName });

export interface Edition {
  readonly id: EditionId;
  readonly procedure: ProcedureId;
  /** 1, 2, 3 … within its procedure. */
  readonly number: number;
  readonly steps: readonly Step[];
  readonly because: string;
  readonly madeAt: Instant;
  readonly by: PersonId;
}

/** Steps are checked against their kinds: a quantity that the kind does not know, or outside its range, is refused. */
export const makeEdition = maker<Edition>(
  'edition',
  {
    id: anId,
    procedure: anId,
    number: number({ from: 1, whole: true }),
    steps: listOf(aStep, 200),
    because: aNote,
    madeAt: anInstant,
    by: anId,
  },
  ({ steps }) => {
    if (steps.length === 0)
      return { why: 'no-steps', message: 'edition: a procedure needs at least one step.' };
    const seen = new Set<string>();
    for (const step of steps) {
      if (seen.has(step.key)) {
        return {
          why: 'key-twice',
          message: `edition: two steps are called “${step.key}”; give each its own key.`,
        };
      }
      seen.add(step.key);
      const problem = amountsProblem(step, step.quantities);
      if (problem) return problem;
    }
    return null;
  },
);
