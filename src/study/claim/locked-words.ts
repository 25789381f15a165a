/**
 * Words that a claim may not use: a count of none is never an absence, and a count says nothing about harm.
 * (“zero” would also blur none seen, not looked and could not have been seen.)
 */
export const LOCKED_WORDS = [
  'zero',
  'free of',
  'free from',
  'safe',
  'harmful',
  'harmless',
  'causes',
  'proves',
] as const;

/** The first locked word in a text, or null. */
export function lockedWordIn(text: string): string | null {
  const lower = text.toLowerCase();
  return LOCKED_WORDS.find((word) => new RegExp(`\\b${word}\\b`).test(lower)) ?? null;
}
