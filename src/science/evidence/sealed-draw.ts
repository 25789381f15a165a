/** Neutral codes, turns and order by a seeded draw: who scores learns nothing from them. */
import { chanceFrom, drawBelow, shuffled } from '../maths/index.ts';

/** Letters and figures that cannot be taken for each other, without vowels, so that no code is a word. */
const SIGNS = 'BCDFGHJKMNPQRTVWXY34679';

export interface DrawnCard {
  readonly code: string;
  /** Position in the list that was handed in. */
  readonly of: number;
  readonly turnDeg: number;
  readonly mirrored: boolean;
  /** The scorer guesses here whether it is from a specimen run or a control. */
  readonly guess: boolean;
  /** Shown a second time to the same scorer. */
  readonly again: boolean;
}

/** Cards for so many pictures. The same seed gives the same cards. */
export function drawCards(
  pictures: number,
  shares: { readonly guess: number; readonly again: number },
  seed: number,
): readonly DrawnCard[] {
  const chance = chanceFrom(seed);
  const codes = new Set<string>();
  const places = shuffled(
    chance,
    Array.from({ length: pictures }, (_, at) => at),
  );
  const chosen = (share: number): ReadonlySet<number> =>
    new Set(
      shuffled(
        chance,
        Array.from({ length: pictures }, (_, at) => at),
      ).slice(0, Math.round(share * pictures)),
    );
  const guess = chosen(shares.guess);
  const again = chosen(shares.again);
  return places.map((of) => {
    let code = '';
    while (code === '' || codes.has(code)) {
      code = Array.from({ length: 4 }, () => SIGNS[drawBelow(chance, SIGNS.length)]).join('');
    }
    codes.add(code);
    return {
      code,
      of,
      turnDeg: drawBelow(chance, 360),
      mirrored: chance.uniform() < 0.5,
      guess: guess.has(of),
      again: again.has(of),
    };
  });
}

/**
 * The order in which one scorer sees the cards: each in an order of their own, repeats in a second part, shuffled anew, so
 * that none follows close upon its first showing.
 */
export function orderFor(
  cards: readonly Pick<DrawnCard, 'code' | 'again'>[],
  seed: number,
  scorer: string,
): readonly { readonly code: string; readonly pass: 1 | 2 }[] {
  let own = seed;
  for (const sign of scorer) own = (Math.imul(own, 31) + (sign.codePointAt(0) ?? 0)) | 0;
  const chance = chanceFrom(own);
  const first = shuffled(chance, cards).map(({ code }) => ({ code, pass: 1 as const }));
  const second = shuffled(
    chance,
    cards.filter((card) => card.again),
  ).map(({ code }) => ({ code, pass: 2 as const }));
  return [...first, ...second];
}
