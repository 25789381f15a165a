import { claimJson } from '../api/index.ts';
import { type CountingInput, judge } from '../science/counting/index.ts';
import { claimFrom } from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { claimWords } from './claim-words.ts';
import { readBlank, readDrill, readPortion, readRecovery, readShare } from './counts-option.ts';
import { STATUS, type Status } from './misuse.ts';
import type { Terminal } from './tools.ts';

export interface ClaimOptions {
  readonly portion: readonly string[];
  readonly blank: readonly string[];
  readonly passed: string;
  readonly examined: string;
  readonly recovery?: string;
  readonly drill?: string;
  readonly confidence: string;
  readonly json?: boolean;
}

/** Relabellings are drawn alike for the same counts, so that the same command gives the same answer. */
const SEED = 20_260_101;

/** `retentate claim`: a claim from counts alone. Refused where the counts are no counts; every claim state is an answer. */
export function claim(options: ClaimOptions, terminal: Terminal): Status {
  const input = readInput(options);
  const judged = input.ok ? judge(input.value, { seed: SEED }) : input;
  if (!judged.ok && judged.refusal.why !== 'no-controls') {
    const { why, message } = judged.refusal;
    if (options.json) terminal.out(`${JSON.stringify({ refusal: { why, message } })}\n`);
    terminal.err(`${message}\n`);
    return STATUS.refused;
  }
  // Without controls there is a claim too: that nothing can be judged.
  const outcome = judged as ReturnType<typeof judge>;
  const json = claimJson(claimFrom(outcome), outcome.ok ? outcome.value : null);
  terminal.out(options.json ? `${JSON.stringify(json)}\n` : claimWords(json));
  return STATUS.done;
}

function readInput(options: ClaimOptions): Outcome<CountingInput> {
  const passed = readShare(options.passed, 'passed');
  if (!passed.ok) return passed;
  const examined = readShare(options.examined, 'examined');
  if (!examined.ok) return examined;
  const seen = { passed: passed.value, examined: examined.value };
  const portions = [];
  for (const [at, text] of options.portion.entries()) {
    const portion = readPortion(text, at + 1);
    if (!portion.ok) return portion;
    portions.push({ ...portion.value, ...seen });
  }
  const controls = [];
  for (const [at, text] of options.blank.entries()) {
    const blank = readBlank(text, at + 1);
    if (!blank.ok) return blank;
    controls.push({ ...blank.value, ...seen });
  }
  const recovery = options.recovery === undefined ? done(null) : readRecovery(options.recovery);
  if (!recovery.ok) return recovery;
  const drill = options.drill === undefined ? done(null) : readDrill(options.drill);
  if (!drill.ok) return drill;
  const confidence = readShare(options.confidence, 'confidence');
  if (!confidence.ok) return confidence;
  return done({
    portions,
    controls,
    recovery: recovery.value,
    drill: drill.value,
    confidence: confidence.value,
  });
}
