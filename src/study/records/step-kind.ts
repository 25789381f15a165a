/** A kind of step that a laboratory declares for itself, checked like any other record. */
import { CAUSES, MAKES, type StepKind, type StepQuantity, stepKind } from '../step-kinds/index.ts';
import type { PersonId } from './laboratory.ts';
import {
  anId,
  anInstant,
  type Instant,
  listOf,
  maker,
  number,
  oneOf,
  type Rule,
  record,
  text,
  yesOrNo,
} from './rules.ts';

const TOUCHED = ['vessel', 'tool', 'liquid', 'reagentLot', 'place', 'person', 'filterLot', 'optics'] as const;
/** Ends of a quantity's name that carry its unit; a bare number of times, or minutes, is its own unit. */
const UNIT_AT_THE_END = /^(times|minutes|[a-z][a-z0-9_]*_(ml|g|mg|c|um|mm|cm|s|rpm|percent|w|kpa))$/;

const aKindName: Rule = (value, what) =>
  typeof value === 'string' && /^[a-z][a-z0-9-]{1,39}$/.test(value)
    ? null
    : {
        why: 'not-a-kind',
        message: `${what}: small letters, figures and hyphens are needed, such as “rub-with-cloth”; given ${String(value)}.`,
      };

const aQuantity: Rule = (value, what) => {
  const problem = record<StepQuantity>({
    name: text(1, 60),
    label: text(1, 60),
    least: number({}),
    most: number({}),
    tolerance: number({ from: 0, to: 1 }),
    scales: yesOrNo,
  })(value, what);
  if (problem) return problem;
  const { name, least, most } = value as StepQuantity;
  if (!UNIT_AT_THE_END.test(name)) {
    return {
      why: 'no-unit',
      message: `${what}: its name must end in its unit, such as volume_ml, mass_g, temperature_c, speed_rpm, or be times or minutes; given “${name}”.`,
    };
  }
  return most > least
    ? null
    : {
        why: 'upside-down',
        message: `${what} “${name}”: it ends at ${most}, not above its start at ${least}.`,
      };
};

const fields = {
  kind: aKindName,
  says: text(1, 60),
  quantities: listOf(aQuantity, 20),
  touches: listOf(oneOf(TOUCHED), TOUCHED.length),
  brings: listOf(oneOf(CAUSES), CAUSES.length),
  makes: listOf(oneOf(MAKES), MAKES.length),
} as const;

export const aStepKind: Rule = (value, what) => record<StepKind>(fields)(value, what);

export interface OwnStepKind extends StepKind {
  readonly at: Instant;
  readonly by: PersonId;
}

export const makeOwnStepKind = maker<OwnStepKind>(
  'kind of step',
  { ...fields, at: anInstant, by: anId },
  ({ kind, brings }) => {
    if (stepKind(kind)) {
      return {
        why: 'name-taken',
        message: `kind of step: “${kind}” is a known kind already; choose another name.`,
      };
    }
    return brings.length === 0
      ? {
          why: 'brings-nothing',
          message: `kind of step “${kind}”: say what stray particles it can bring (air at least, wherever something stands open).`,
        }
      : null;
  },
);
