import type { CountingRefusal, Judgement } from '../../science/counting/index.ts';
import type { Outcome } from '../../units/index.ts';
import type { ClaimState } from './claim.ts';
import type { ClaimFacts } from './facts.ts';
import { besideInterval, chance, percent, plural, range, twoFigures, withInterval } from './figures.ts';
import { examinedTooLittle, notQuantifiedFor, outOfSight } from './state.ts';

/** What was counted, as far as it is known what it is. */
export function piecesOf(facts: ClaimFacts): string {
  const { by, polymer } = facts.identification;
  if (by === 'polymer') return `pieces of ${polymer ?? 'the polymer'}`;
  if (by === 'melts') return 'pieces that melt';
  return 'suspected plastic pieces (told by eye)';
}

/** “for pieces of 50 µm and more”, as far as it is known. */
function sizes(facts: ClaimFacts): string {
  const { scope, sizeFloorUm } = facts;
  const from = Math.max(scope?.fromUm ?? 0, sizeFloorUm ?? 0);
  if (from === 0) return '';
  if (scope?.toUm) return ` (pieces of ${twoFigures(from)} to ${twoFigures(scope.toUm)} µm)`;
  return ` (pieces of ${twoFigures(from)} µm and more)`;
}

const level = (judgement: Judgement): string => `${Number((100 * judgement.confidence).toPrecision(6))} %`;

function expected(judgement: Judgement): string {
  const { background } = judgement;
  return `${besideInterval(background)} (${range(background)}) expected from ${plural(judgement.controls.runs, 'control')}`;
}

function share(facts: ClaimFacts): string {
  const { share: part, by } = facts.identification;
  if (part === null || by === 'by-eye') return '';
  return `; of the pieces tested, ${percent(part.value)} (${percent(part.lower)} to ${percent(part.upper)}) are so`;
}

function notMeasured(judged: Outcome<Judgement, CountingRefusal>, facts: ClaimFacts): string {
  const { scope, sizeFloorUm } = facts;
  if (outOfSight(facts) === 'all' && scope?.toUm) {
    return `Pieces of ${twoFigures(scope.fromUm)} to ${twoFigures(scope.toUm)} µm were not measured: these optics show none below ${twoFigures(sizeFloorUm!)} µm.`;
  }
  if (examinedTooLittle(facts)) {
    return `Not measured: ${percent(facts.examined!)} of the material was examined, and ${percent(facts.examinedRequired!)} was asked for.`;
  }
  if (!judged.ok && judged.refusal.why === 'no-portions' && facts.basis === 'study') {
    return 'Not measured: no filter of a specimen run was photographed and searched yet.';
  }
  return judged.ok ? 'Not measured.' : `Not measured. ${judged.refusal.message}`;
}

function cannotBeJudged(judged: Outcome<Judgement, CountingRefusal>, facts: ClaimFacts): string {
  const gap = facts.gaps.find((g) => g.grade !== 'unknown');
  const raw = judged.ok
    ? ` The raw count, ${judged.value.specimens.count} in ${plural(judged.value.specimens.runs, 'specimen run')}, is kept and not interpreted.`
    : '';
  if (gap) {
    const wrong = gap.grade === 'missing' ? 'no control repeats it' : 'the controls did it otherwise';
    return `No result can be stated: at the step “${gap.step}” ${wrong}, so ${gap.leavesOpen} is not ruled out.${raw}`;
  }
  if (!judged.ok && judged.refusal.why === 'no-controls' && facts.basis === 'study') {
    return 'No result can be stated: no control that matches the runs was looked at, so nothing tells product from background.';
  }
  if (!judged.ok) return `No result can be stated. ${judged.refusal.message}`;
  const { specimens, controls } = judged.value;
  return `No result can be stated yet: ${plural(specimens.runs, 'specimen run')} and ${plural(controls.runs, 'matching control')} are too few to know how runs scatter.${raw}`;
}

/** The claim in one sentence (two where a reservation must not be split from it). */
export function sentenceOf(
  state: ClaimState,
  judged: Outcome<Judgement, CountingRefusal>,
  facts: ClaimFacts,
  attributed: boolean,
): string {
  if (state === 'not-measured') return notMeasured(judged, facts);
  if (state === 'cannot-be-judged' || !judged.ok) return cannotBeJudged(judged, facts);
  const judgement = judged.value;
  const { specimens, netPerGram } = judgement;
  const pieces = piecesOf(facts);
  const where = sizes(facts);
  const primary = judgement.tests.find((t) => t.primary)!;
  if (state === 'not-detected') {
    const limit = `fewer than ${twoFigures(judgement.upperLimitPerGram)} per gram (one-sided ${level(judgement)} upper limit)${where}`;
    return specimens.count === 0
      ? `None seen in ${plural(specimens.runs, 'specimen run')}: ${limit}.`
      : `No excess over the background: ${specimens.count} counted, ${expected(judgement)}; ${limit}.`;
  }
  if (state === 'not-distinguishable') {
    return `Not distinguishable from the background (${chance(primary.p)}): ${specimens.count} counted, ${expected(judgement)}; the difference, ${range(netPerGram)} per gram${where}, may be none at all.`;
  }
  const source = attributed ? ' This is consistent with release from the product.' : '';
  if (state === 'quantified') {
    return `${withInterval(netPerGram)} ${pieces} per gram above the background, ${level(judgement)} interval${where}${share(facts)}.${source}`;
  }
  const bounds =
    netPerGram.lower > 0
      ? `between ${range(netPerGram).replace(' to ', ' and ')} per gram`
      : `at most ${twoFigures(netPerGram.upper)} per gram`;
  const tail = {
    'recovery-not-measured': `${bounds} were found${where}, and how many were lost on the way is not known`,
    'recovery-too-low': `${bounds}${where}, but too few known pieces came back to state the amount`,
    'too-few-runs': `${bounds}${where}, but the runs are too few to know how an amount scatters`,
    'natural-pieces-kept': `${bounds}${where}, but too many of them may be natural pieces that the scorer keeps`,
    'too-wide': `the amount is too uncertain to state, ${bounds}${where}`,
  }[notQuantifiedFor(judgement) ?? 'too-wide'];
  return `More ${pieces} than in the controls (${chance(primary.p)}): ${tail}.${source}`;
}
