/**
 * Two people write one thing in two ways: "Glass beaker, 1 L" and "beaker glass 1L". This is the thing without the way:
 * letters in lower case, no punctuation, numbers joined to their units, words in alphabetical order.
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

function plainly(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/(\p{L})[-–‑](?=\d)/gu, '$1')
    .replace(/(\d)[,](?=\d)/gu, '$1.')
    .replace(/[^\p{L}\p{N}.%µ]+/gu, ' ')
    .replace(/\.(?!\d)/gu, ' ')
    .replace(/(\d)\s+(ml|l|g|mg|kg|mm|cm|µm|um|%|°?c)(?=\s|$)/gu, '$1$2')
    .split(' ')
    .filter((word) => word !== '' && !EMPTY.has(word))
    .sort()
    .join(' ');
}

const EMPTY: ReadonlySet<string> = new Set(['the', 'a', 'an', 'of', 'with', 'and', 'lot', 'no', 'nr']);
