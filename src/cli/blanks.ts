import { type FalseFindsJson, falseFindsJson } from '../api/index.ts';
import { ratesBySetting, type SearchedBlank } from '../science/counting/index.ts';
import type { Finding, FindWish } from '../science/imaging/finding.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { STATUS, type Status } from './misuse.ts';
import type { NamedPhoto } from './photo-files.ts';
import { progressBar } from './progress-bar.ts';
import { tellRefusal } from './refusal.ts';
import type { PhotoSearch, Terminal } from './tools.ts';

const CONFIDENCE = 0.95;

/** `retentate find BLANK… --blanks`: how many false finds a blank photograph each setting gives, and which to ask for. */
export async function blanks(
  photos: readonly NamedPhoto[],
  wish: FindWish,
  options: { readonly json?: boolean },
  terminal: Terminal,
  search: PhotoSearch,
): Promise<Status> {
  try {
    const wanted = wish.falseFindsPerBlank;
    const searches: Finding[] = [];
    const rates = await ratesBySetting(wanted, CONFIDENCE, async (asked) => {
      const searched = await searchAt(photos, { ...wish, falseFindsPerBlank: asked }, terminal, search);
      if (!searched.ok) return searched;
      if (searches.length === 0) tellLeftOut(photos, searched.value, terminal);
      searches.push(searched.value[0]!);
      return done(searched.value.filter(wasSearched).map(asBlank));
    });
    if (!rates.ok) return tellRefusal(rates.refusal, options, terminal);
    const { method, version } = searches[0]!;
    const json = falseFindsJson({
      method,
      version,
      wanted,
      smallestUm: wish.smallest,
      confidence: CONFIDENCE,
      rates: rates.value,
    });
    terminal.out(options.json ? `${JSON.stringify(json)}\n` : falseFindWords(json));
    return json.ask === null ? STATUS.refused : STATUS.done;
  } finally {
    await search.close();
  }
}

const wasSearched = (finding: Finding): boolean => finding.searchedFraction > 0;

/** On a photograph with nothing on it, whatever is found is a false find. */
const asBlank = ({ searchedFraction, particles }: Finding): SearchedBlank => ({
  searched: searchedFraction,
  falseFinds: particles.length,
  undecided: 0,
});

async function searchAt(
  photos: readonly NamedPhoto[],
  wish: FindWish,
  terminal: Terminal,
  search: PhotoSearch,
): Promise<Outcome<readonly Finding[]>> {
  const bar = progressBar(photos.length, terminal);
  try {
    const answers = await Promise.all(
      photos.map(async ({ path, name }) => {
        let told = 0;
        const progress = (share: number): void => {
          bar.tick(share - told);
          told = share;
        };
        const answer = await search.search({ path, name, wish }, progress, terminal.signal);
        progress(1);
        return answer;
      }),
    );
    const findings: Finding[] = [];
    for (const answer of answers) {
      if (!answer.ok) return answer;
      findings.push(answer.value.finding);
    }
    return findings.some(wasSearched)
      ? done(findings)
      : refused(findings[0]!.refusal ?? { why: 'not-searched', message: 'Nothing was searched.' });
  } finally {
    bar.stop();
  }
}

function tellLeftOut(photos: readonly NamedPhoto[], findings: readonly Finding[], terminal: Terminal): void {
  findings.forEach((finding, at) => {
    if (!wasSearched(finding)) {
      terminal.err(
        `${photos[at]!.name} is left out: ${finding.refusal?.message ?? 'nothing was searched.'}\n`,
      );
    }
  });
}

const rounded = (n: number): string => (n === 0 ? '0' : n >= 100 ? n.toFixed(0) : n.toPrecision(2));

function falseFindWords(given: FalseFindsJson): string {
  const several = given.photographs === 1 ? '1 blank photograph' : `${given.photographs} blank photographs`;
  const percent = Math.round(100 * given.confidence);
  const whole =
    Math.abs(given.searched - given.photographs) < 0.05
      ? ''
      : `, ${rounded(given.searched)} whole ones by what was searched of them`;
  const differ = given.rates.some(({ scatter_p }) => scatter_p !== null && scatter_p < 1 - given.confidence);
  const lines = [
    `${several} searched${whole}; every find on them counts as false.`,
    '',
    `${'asked for'.padEnd(12)}${'found'.padEnd(8)}a photograph (${percent} %)`,
    ...given.rates.map(
      ({ asked, false_finds, most, lower, upper }) =>
        `${String(asked).padEnd(12)}${String(false_finds).padEnd(8)}${rounded(most)} (${rounded(lower)} to ${rounded(upper)})`,
    ),
    '',
    given.because ??
      `For ${given.wanted} false finds a blank photograph of this membrane ask for --false-finds ${given.ask}.`,
    ...(differ
      ? ['The photographs differ from one another by more than chance: the ranges are too narrow.']
      : []),
  ];
  return `${lines.join('\n')}\n`;
}
