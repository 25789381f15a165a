import type { Step } from '../records/procedure.ts';
import { type Caution, cautionsOfAll } from './cautions.ts';
import { type Stop, stopsIn } from './dangerous-pairs.ts';

/** What must be settled in writing before work that can hurt. */
export const SAFETY_FIELDS = [
  'dataSheets',
  'protection',
  'ventilation',
  'emergency',
  'waste',
  'supervision',
] as const;
export type SafetyField = (typeof SAFETY_FIELDS)[number];

export const SAFETY_QUESTIONS: Readonly<Record<SafetyField, string>> = {
  dataSheets: 'Which safety data sheets were read, by whom and when?',
  protection: 'Which protection is worn: eyes, hands, clothes?',
  ventilation: 'Where is it done, and how is the air changed?',
  emergency: 'How is it stopped, cooled or quenched, and what is at hand: eye wash, extinguisher, telephone?',
  waste: 'Where does the waste go, and who takes it?',
  supervision: 'Who is there besides the operator, and who may not take part?',
};

/** Answers in a person's words; empty or blank is not an answer. */
export type SafetyAnswers = { readonly [F in SafetyField]?: string | null };

export interface SafetyGate {
  /** True only when nothing is stopped and every field that the work asks for is answered. */
  readonly ready: boolean;
  readonly stops: readonly Stop[];
  readonly missing: readonly SafetyField[];
  readonly asked: readonly SafetyField[];
  readonly cautions: readonly Caution[];
  /** One sentence for the head of the plan. */
  readonly sentence: string;
}

/**
 * The gate before a plan may be called ready. Work with a grave hazard (reagents, flame, body fluids) asks for all six fields;
 * work with vacuum or heat alone for protection and supervision; water, sieve and lens for none.
 */
export function safetyGate(steps: readonly Step[], answers: SafetyAnswers): SafetyGate {
  const stops = stopsIn(steps);
  const cautions = cautionsOfAll(steps);
  const grave = cautions.some((one) => one.grave);
  const asked: readonly SafetyField[] = grave
    ? SAFETY_FIELDS
    : cautions.some((one) => ['vacuum', 'heat', 'oven', 'enzyme'].includes(one.about))
      ? ['protection', 'supervision']
      : [];
  const missing = asked.filter((field) => (answers[field] ?? '').trim().length < 3);
  return {
    ready: stops.length === 0 && missing.length === 0,
    stops,
    missing,
    asked,
    cautions,
    sentence: sentence(stops, missing, asked),
  };
}

function sentence(
  stops: readonly Stop[],
  missing: readonly SafetyField[],
  asked: readonly SafetyField[],
): string {
  if (stops.length > 0)
    return `Stopped: ${stops.length === 1 ? 'one thing' : `${stops.length} things`} in these steps must not meet; mend the steps first.`;
  if (missing.length > 0)
    return `Not ready: ${missing.length} of ${asked.length} safety questions are not answered yet.`;
  return asked.length === 0
    ? 'Nothing in these steps asks for safety answers beyond common care.'
    : 'The safety questions are answered; data sheets and local rules still come first.';
}
