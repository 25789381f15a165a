/** A plan in words: what it comes to, why, what to do next, and how far it holds. */
import { MINIMUM_DESIGN, MOST_PLANNED, runsMissing } from '../../science/counting/index.ts';
import { percent, plural, twoFigures } from '../claim/figures.ts';
import type { DesignReport, PlanReport } from './plan-report.ts';
import type { PlanRead } from './plan-wish.ts';

type Report = Omit<PlanReport, 'sentence' | 'because' | 'next' | 'cautions'>;

/** A chance as people read it: the ends of the scale are not certainty. */
export const chanceWords = (p: number): string =>
  p > 0.985 ? 'over 98 %' : p < 0.015 ? 'under 2 %' : `${Math.round(100 * p)} %`;

/** “6 specimen runs, 6 controls and 3 spiked runs”. */
export function designWords(
  d: Pick<DesignReport, 'specimen_runs' | 'controls' | 'spiked_runs' | 'tested_pieces'>,
): string {
  const parts = [
    plural(d.specimen_runs, 'specimen run'),
    plural(d.controls, 'control'),
    ...(d.spiked_runs > 0 ? [plural(d.spiked_runs, 'spiked run')] : []),
    ...(d.tested_pieces > 0 ? [`${plural(d.tested_pieces, 'tested piece')} on each side`] : []),
  ];
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** A chance below this is none to plan on; hours used less than this are told as left over. Project choices. */
const FAIR = 0.1;
const LEFT_OVER = 0.9;

const hoursWords = (h: number): string => `${twoFigures(h)} h`;

export function sentenceOf(report: Report, read: PlanRead): string {
  if (report.have) return haveSentence(report, read);
  const best = report.best === null ? null : report.designs[report.best]!;
  if (!best) {
    const { hours } = read.wish;
    const least = 4 * hours.specimen + 4 * hours.control + (read.aim === 'amount' ? 2 * hours.spike : 0);
    return `${hoursWords(read.hours!)} are too few: 4 specimen runs and 4 controls${read.aim === 'amount' ? ' with 2 spiked runs' : ''} take ${hoursWords(least)}.`;
  }
  const design = designWords(best);
  if (read.release === null) {
    return `${design} (${hoursWords(best.hours)}) would see a release of ${per(best.smallest_80_per_gram)} four times in five, and say “fewer than ${per(best.limit_per_gram)}” if nothing is released.`;
  }
  const chances =
    best.chance_amount === null
      ? `${chanceWords(best.chance_above!)} chance to see`
      : `${chanceWords(best.chance_above!)} chance to see, and ${chanceWords(best.chance_amount)} to put an amount to,`;
  const spent =
    read.hours === null ? hoursWords(best.hours) : `${hoursWords(best.hours)} of ${hoursWords(read.hours)}`;
  const fair = (best.chance_amount ?? best.chance_above!) >= FAIR;
  return `${read.hours === null ? '' : fair ? 'Best spent on ' : `No split of the hours gives a fair chance of ${best.chance_amount === null ? 'it' : 'an amount'}; the least bad is `}${design} (${spent}): ${chances} a release of ${per(read.release)}.`;
}

const per = (n: number | null): string => (n === null ? 'no size at all' : `${twoFigures(n)} per gram`);

function haveSentence({ have }: Report, read: PlanRead): string {
  const h = have!;
  const runs = designWords(h);
  if (!h.may_claim) {
    const { controls, specimenRuns } = runsMissing(h.specimen_runs, h.controls, 1 - read.wish.confidence);
    const missing = [
      specimenRuns > 0 ? plural(specimenRuns, 'more specimen run') : '',
      controls > 0 ? plural(controls, 'more control') : '',
    ].filter((part) => part !== '');
    return `With ${runs} a study can claim nothing yet: it needs ${MINIMUM_DESIGN}. ${missing.join(' and ')} would do.`;
  }
  const seen = `a release of ${per(h.smallest_80_per_gram)} would be seen four times in five`;
  const amount =
    h.chance_amount !== null && read.release !== null
      ? ` The release expected, ${per(read.release)}, has ${chanceWords(h.chance_above!)} chance to be seen and ${chanceWords(h.chance_amount)} to be put an amount to.`
      : '';
  return `With ${runs} the best claim within reach is “fewer than ${per(h.limit_per_gram)}” if nothing is released; ${seen}.${amount}`;
}

/** Moves of a limit or a sight smaller than this are none. */
const HARDLY = 0.03;

function moveWords(from: number | null, to: number | null, what: string): string | null {
  if (to === null) return null;
  if (from === null) return `${what} becomes ${per(to)}`;
  if (to > from * (1 - HARDLY))
    return `hardly ${what === 'the limit' ? 'moves the limit' : 'makes smaller releases seen'}`;
  return `${what === 'the limit' ? 'moves the limit' : 'brings the release seen four times in five'} from ${twoFigures(from)} to ${twoFigures(to)} per gram`;
}

export function nextOf({ have, designs, best }: Report, read: PlanRead): string[] {
  const out: string[] = [];
  for (const more of have?.more ?? []) {
    const moves = [
      moveWords(have!.limit_per_gram, more.limit_per_gram, 'the limit'),
      moveWords(have!.smallest_80_per_gram, more.smallest_80_per_gram, 'the release seen four times in five'),
    ].filter((move) => move !== null);
    const what = `${more.adds.charAt(0).toUpperCase()}${more.adds.slice(1)} more (${hoursWords(more.hours)})`;
    if (moves.length > 0) out.push(`${what}: ${moves.join('; ')}.`);
  }
  if (have && have.spiked_runs === 0 && read.aim === 'amount') {
    out.push('Three spiked runs: without them losses are not known, and no amount can be stated.');
  }
  const chosen = best === null ? null : designs[best];
  const guessed = read.assumed.some((a) => a.name === 'Background' && !a.given);
  if (!have && chosen && guessed) {
    out.push(
      'Make three blanks first and plan again with what they hold: the background is the guess that matters most.',
    );
  }
  if (!have && chosen) {
    out.push('Make one run more than planned on each side: a run gets spoilt.');
    if (chosen.chance_above !== null && chosen.chance_above < 0.8) {
      out.push(
        'The chance is below four in five: take larger portions, lower the background, or ask for a larger release.',
      );
    }
  }
  return out;
}

export function becauseOf({ designs, best, if_otherwise }: Report, read: PlanRead): string[] {
  const chosen = best === null ? null : designs[best]!;
  if (!chosen) return [];
  const out: string[] = [];
  if (chosen.smallest_80_per_gram !== null && chosen.smallest_95_per_gram !== null) {
    out.push(
      `${designWords(chosen)}: a release of ${per(chosen.smallest_80_per_gram)} is seen with 80 % chance, ${per(chosen.smallest_95_per_gram)} with 95 %.`,
    );
  }
  const worst = designs.at(-1)!;
  if (read.release !== null && read.hours !== null && worst !== chosen) {
    const of = (d: DesignReport) => chanceWords(d.chance_amount ?? d.chance_above!);
    out.push(
      of(worst) === of(chosen)
        ? `The same hours on ${designWords(worst)} would do as well (${of(worst)}).`
        : `The same hours on ${designWords(worst)} would give ${of(worst)} instead of ${of(chosen)}.`,
    );
  }
  if (read.hours !== null && chosen.hours < LEFT_OVER * read.hours) {
    out.push(
      `${hoursWords(read.hours - chosen.hours)} are left over: no plan here goes beyond ${MOST_PLANNED.runs} runs of each kind, ${MOST_PLANNED.spikes} spiked runs and ${MOST_PLANNED.tested} tested pieces on each side.`,
    );
  }
  if (if_otherwise.length > 0) {
    out.push(
      `If it is otherwise: ${if_otherwise.map((o) => `with ${o.what} the chance to see is ${chanceWords(o.chance_above)}`).join('; ')}.`,
    );
  }
  return out;
}

export function cautionsOf(_: Report, read: PlanRead): string[] {
  const out = [
    'Background and scatter are guesses until blanks are counted: plan again with half and twice of each.',
    'Chances come from 200 to 400 virtual studies and are good to about 3 in 100.',
  ];
  const { truth, fraction } = read.wish;
  if (fraction < 0.25) {
    out.push(
      `Only ${percent(fraction)} of each run is looked at: the rest is not measured, whatever the number of runs.`,
    );
  }
  if (truth.recovery < 0.6) {
    out.push('Below 60 % recovery no amount is stated, however many runs there are: mend the losses first.');
  }
  return out;
}
