/**
 * Two people write one thing in two ways: "Glass beaker, 1 L" and "beaker glass 1L". This is the thing without the way:
 * letters in lower case, no punctuation, numbers joined to their units, words in alphabetical order. What order says stays:
 * ratios and lots (1:10, 12-03), what is on, in, of or with what, and what a "no" or "without" takes away.
 */
export function plainWords(text: string): string {
  const there = known.get(text);
  if (there !== undefined) return there;
  const plain = plainly(text);
  // Names of a laboratory are few and come again with every comparison; a flood of others starts afresh.
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(text, plain);
  return plain;
}

const MOST_KNOWN = 5000;
const known = new Map<string, string>();

/** Join two things that are not each other's like: a knife on a board is no board on a knife. */
const JOINS: ReadonlySet<string> = new Set(
  'on in of with under over at to into from by for beside'.split(' '),
);
const EMPTY: ReadonlySet<string> = new Set(['the', 'an', 'lot', 'nr']);
const NOT = '¬';

function plainly(text: string): string {
  const words = text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/(\p{L})[-–‑](?=\d)/gu, '$1')
    .replace(/(\d)[,](?=\d)/gu, '$1.')
    .replace(/(\d)\s*:\s*(?=\d)/gu, '$1:')
    .replace(/(\d)[-–‑/](?=\d)/gu, '$1-')
    .replace(/(?<!\d)[:-]|[:-](?!\d)|[^\p{L}\p{N}.%µ:-]+/gu, ' ')
    .replace(/\.(?!\d)/gu, ' ')
    .replace(
      /(\d)\s+(ml|cl|dl|l|g|mg|kg|mm|cm|µm|um|nm|m|mol|%|°?c|h|min|w|v|rpm)(?=\s|$)/gu,
      (_, digit, unit) => digit + unit,
    )
    .split(' ')
    .filter((word) => word !== '' && !EMPTY.has(word));
  return joined(tied(withoutArticle(negated(words))));
}

/** "with no lid", "without lid", "no lid", "without a lid": one thing, and not a lid. */
function negated(words: readonly string[]): readonly string[] {
  const out: string[] = [];
  for (const [at, word] of words.entries()) {
    const before = out.at(-1);
    const next = words[at + 1] === 'a' ? words[at + 2] : words[at + 1];
    if (before === NOT) {
      if (word !== 'a') out.splice(-1, 1, NOT + word);
    } else if (word === 'without' || (word === 'no' && next !== undefined && /^\p{L}/u.test(next))) {
      if (before !== undefined && before !== 'with') out.push('with');
      out.push(NOT);
    } else if (word === 'not' || word === 'never') out.push(NOT);
    else out.push(word);
  }
  return out;
}

/** "a" is an article before a thing; behind one it is a name: beaker A. */
const withoutArticle = (words: readonly string[]): readonly string[] =>
  words.filter((word, at) => {
    const before = words[at - 1];
    const article = before === undefined || before === 'and' || JOINS.has(before);
    return !(word === 'a' && article && at + 1 < words.length);
  });

/** Where several numbers stand alone, each belongs to the word before it: shelf 2, bottle 3. */
function tied(words: readonly string[]): readonly string[] {
  const alone = (word: string) => /^[\d.]+$/.test(word);
  if (words.filter(alone).length < 2) return words;
  const out: string[] = [];
  for (const word of words) {
    if (alone(word) && out.length > 0) out.push(`${out.pop()}${word}`);
    else out.push(word);
  }
  return out;
}

function joined(words: readonly string[]): string {
  const at = words.findIndex((word) => JOINS.has(word));
  if (at < 0) return listed(words);
  const [before, after] = [words.slice(0, at), words.slice(at + 1)];
  return [listed(before), words[at], joined(after)].filter((part) => part !== '').join(' ');
}

/** Things beside each other, in any order; the words of each in any order. */
function listed(words: readonly string[]): string {
  const things: string[][] = [[]];
  for (const word of words) {
    if (word === 'and') things.push([]);
    else things.at(-1)!.push(word);
  }
  return things
    .map((thing) => thing.sort().join(' '))
    .filter((thing) => thing !== '')
    .sort()
    .join(' and ');
}
