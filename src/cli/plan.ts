import type { Command } from 'commander';
import { type PlanAsked, planReport } from '../study/index.ts';
import { done, type Grams, type Outcome, readGrams, refused } from '../units/index.ts';
import { readShare } from './counts-option.ts';
import { readSeconds } from './fluid-options.ts';
import { option, STATUS, type Status } from './misuse.ts';
import { planWords } from './plan-words.ts';
import { tellRefusal } from './refusal.ts';
import type { Terminal } from './tools.ts';

export interface PlanOptions {
  readonly aim?: PlanAsked['aim'];
  readonly background?: number;
  readonly release?: number;
  readonly scatter?: number;
  readonly portion?: Grams;
  readonly recovery?: string;
  readonly passed?: string;
  readonly examined?: string;
  readonly spikePieces?: number;
  readonly hours?: number;
  readonly perRun?: number;
  readonly perControl?: number;
  readonly perSpike?: number;
  readonly perTest?: number;
  readonly trueShare?: string;
  readonly runs?: number;
  readonly controls?: number;
  readonly spikes?: number;
  readonly confidence?: string;
  readonly json?: boolean;
}

/** `40` or `40h` or `90min`, in hours. */
export function readHours(text: string): Outcome<number> {
  if (/^\s*[0-9]+([.,][0-9]+)?\s*$/.test(text)) return done(Number(text.replace(',', '.')));
  const seconds = readSeconds(text);
  return seconds.ok ? done(seconds.value / 3600) : seconds;
}

/** A number from 0: what cannot be read is misuse; what is out of range the plan refuses by name. */
export function readNumber(text: string): Outcome<number> {
  const value = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && Number.isFinite(value)
    ? done(value)
    : refused({ why: 'not-a-number', message: `“${text}” is not a number, such as 5 or 0.4.` });
}

/** A share written as 0.4 or 40%, which may be 0. */
const readScatter = (text: string): Outcome<number> => {
  const percent = /^(.*)%\s*$/.exec(text);
  const value = readNumber(percent ? percent[1]! : text);
  return value.ok ? done(percent ? value.value / 100 : value.value) : value;
};

/** The verb `plan`. */
export function planVerb(
  program: Command,
  ends: (work: Promise<Status>) => Promise<void>,
  terminal: Terminal,
) {
  program
    .command('plan')
    .description('what a design can find: runs, controls, spiked runs, tested pieces, hours')
    .option('--background <particles>', 'particles expected on one control run (5)', option(readNumber))
    .option('--release <particles>', 'release per gram that is expected, or that matters', option(readNumber))
    .option(
      '--scatter <share>',
      'how much like runs differ beyond the chance of counting, such as 40% (40%)',
      option(readScatter),
    )
    .option('--portion <mass>', 'mass of product in one run, such as 1g (1g)', option(readGrams))
    .option('--recovery <share>', 'share of known pieces that come back (80%)')
    .option('--passed <share>', 'share of the liquid that passes the filter (100%)')
    .option('--examined <share>', 'share of the filter that is examined (100%)')
    .option('--spike-pieces <number>', 'known pieces put into one spiked run (40)', option(readNumber))
    .option(
      '--hours <hours>',
      'all the hours there are: the best way to spend them is sought',
      option(readHours),
    )
    .option('--per-run <hours>', 'work on one specimen run (3h)', option(readHours))
    .option('--per-control <hours>', 'work on one control (2.5h)', option(readHours))
    .option('--per-spike <hours>', 'work on one spiked run (3h)', option(readHours))
    .option(
      '--per-test <time>',
      'work on testing one piece, such as 5min: tests are then planned too',
      option(readHours),
    )
    .option('--true-share <share>', 'share of the kept pieces that tests confirm (80%)')
    .option('--runs <number>', 'specimen runs that there are', option(readNumber))
    .option('--controls <number>', 'matching controls that there are', option(readNumber))
    .option('--spikes <number>', 'spiked runs that there are', option(readNumber))
    .option('--yes-or-no', 'plan for a yes or no only, not for an amount')
    .option('--confidence <share>', 'confidence of intervals and decision (95%)')
    .option('--json', 'one JSON object')
    .action(async ({ yesOrNo, ...options }: PlanOptions & { yesOrNo?: boolean }) => {
      await ends(Promise.resolve(plan({ ...options, ...(yesOrNo ? { aim: 'above' } : {}) }, terminal)));
    });
}

/** `retentate plan`: what a design can find. Refused where a number is out of range. */
export function plan(options: PlanOptions, terminal: Terminal): Status {
  const asked = readAsked(options);
  const made = asked.ok ? planReport(asked.value) : asked;
  if (!made.ok) {
    return tellRefusal(made.refusal, options, terminal);
  }
  terminal.out(options.json ? `${JSON.stringify(made.value)}\n` : planWords(made.value));
  return STATUS.done;
}

type Asked = { -readonly [F in keyof PlanAsked]: PlanAsked[F] };

function readAsked(options: PlanOptions): Outcome<PlanAsked> {
  const asked: Asked = {};
  for (const [field, text, name] of [
    ['recovery', options.recovery, 'recovery'],
    ['passed', options.passed, 'passed'],
    ['examined', options.examined, 'examined'],
    ['true_share', options.trueShare, 'true share'],
    ['confidence', options.confidence, 'confidence'],
  ] as const) {
    if (text === undefined) continue;
    const share = readShare(text, name);
    if (!share.ok) return share;
    asked[field] = share.value;
  }
  for (const [field, value] of [
    ['background_per_run', options.background],
    ['release_per_gram', options.release],
    ['scatter', options.scatter],
    ['portion_g', options.portion],
    ['pieces_per_spike', options.spikePieces],
    ['hours_available', options.hours],
    ['hours_per_specimen_run', options.perRun],
    ['hours_per_control', options.perControl],
    ['hours_per_spiked_run', options.perSpike],
    ['hours_per_test', options.perTest],
    ['specimen_runs', options.runs],
    ['controls', options.controls],
    ['spiked_runs', options.spikes],
  ] as const) {
    if (value !== undefined) asked[field] = value;
  }
  if (options.aim !== undefined) asked.aim = options.aim;
  return done(asked);
}
