/** What is typed into the form of a published value, and the wish that it makes. */
import type { PublishedAnswer, PublishedJson, PublishedWish } from '../../api/index.ts';
import { typedNumber } from '../look/typed-number.ts';

export interface Typed {
  readonly specimen: string;
  readonly source: string;
  readonly perGram: string;
  readonly kind: PublishedJson['published']['spread']['kind'];
  readonly lower: string;
  readonly upper: string;
  readonly confidence: string;
  readonly sd: string;
  readonly runs: string;
  readonly from: string;
  readonly to: string;
  readonly bands: readonly { readonly to: string; readonly share: string }[];
  readonly answers: Partial<PublishedWish['answers']>;
  readonly note: string;
}

const EMPTY: Omit<Typed, 'specimen'> = {
  source: '',
  perGram: '',
  kind: 'none',
  lower: '',
  upper: '',
  confidence: '95',
  sd: '',
  runs: '',
  from: '',
  to: '',
  bands: [],
  answers: {},
  note: '',
};

const shown = (value: number | null): string => (value === null ? '' : String(value));
const hundredths = (share: number): string => String(Number((100 * share).toPrecision(6)));

export function typedOf(given: PublishedJson | null, specimen: string): Typed {
  if (given === null) return { ...EMPTY, specimen };
  const { published } = given;
  const { spread } = published;
  return {
    ...EMPTY,
    specimen: published.specimen,
    source: published.source,
    perGram: shown(published.per_gram),
    kind: spread.kind,
    ...(spread.kind === 'interval'
      ? { lower: shown(spread.lower), upper: shown(spread.upper), confidence: hundredths(spread.confidence) }
      : {}),
    ...(spread.kind === 'runs' ? { sd: shown(spread.sd), runs: shown(spread.runs) } : {}),
    from: shown(published.size_from_um),
    to: shown(published.size_to_um),
    bands: published.bands.map((band) => ({ to: shown(band.to_um), share: hundredths(band.share) })),
    answers: published.answers,
    note: published.note,
  };
}

class NoFigure extends Error {}

/** A figure that must be there; throws the sentence that names the field. */
function needed(text: string, what: string): number {
  const read = typedNumber(text);
  if (read === null)
    throw new NoFigure(`${what}: write it in figures${text.trim() === '' ? '' : `; “${text}” is none`}.`);
  return read;
}
const orNone = (text: string, what: string): number | null =>
  text.trim() === '' ? null : needed(text, what);

function spreadOf(typed: Typed): PublishedJson['published']['spread'] {
  if (typed.kind === 'none') return { kind: 'none' };
  if (typed.kind === 'runs') {
    return {
      kind: 'runs',
      sd: needed(typed.sd, 'Standard deviation'),
      runs: needed(typed.runs, 'Runs behind it'),
    };
  }
  return {
    kind: 'interval',
    lower: needed(typed.lower, 'Lower end'),
    upper: needed(typed.upper, 'Upper end'),
    confidence: needed(typed.confidence, 'Confidence') / 100,
  };
}

function bandsOf(typed: Typed, from: number | null): PublishedWish['bands'] {
  let begin = from;
  return typed.bands.map((band, at) => {
    if (begin === null) {
      throw new NoFigure(
        'Size bands: say from what size on was counted, and where each band but the last ends.',
      );
    }
    const one = {
      from_um: begin,
      to_um: orNone(band.to, `Band ${at + 1}, to`),
      share: needed(band.share, `Band ${at + 1}, share`) / 100,
    };
    begin = one.to_um;
    return one;
  });
}

/** The wish, or the sentence that says what is missing. */
export function wishOf(
  typed: Typed,
  { questions }: PublishedAnswer,
  entry: string | null,
): PublishedWish | string {
  if (typed.source.trim() === '') return 'Say where it was published, so that a reader finds it.';
  const open = questions.filter(({ key }) => typed.answers[key] === undefined);
  try {
    const from = orNone(typed.from, 'Sizes from');
    const wish = {
      entry,
      specimen: typed.specimen,
      source: typed.source,
      per_gram: needed(typed.perGram, 'Published value'),
      spread: spreadOf(typed),
      size_from_um: from,
      size_to_um: orNone(typed.to, 'Sizes to'),
      bands: bandsOf(typed, from),
      note: typed.note,
    };
    if (open.length > 0) {
      return `Nothing is compared before every question has an answer; ${open.length === 1 ? 'one is' : `${open.length} are`} open, the first: “${open[0]!.asks}”.`;
    }
    return { ...wish, answers: typed.answers as PublishedWish['answers'] };
  } catch (failure) {
    if (failure instanceof NoFigure) return failure.message;
    throw failure;
  }
}
