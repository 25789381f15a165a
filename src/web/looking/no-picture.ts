import { addressOf, declined, NobodyAnswers } from '../server/ask.ts';

/** Why a photograph's picture does not come, in the sentence of the program; null where it comes, or nobody answers. */
export async function whyNoPicture(photo: string): Promise<string | null> {
  try {
    const answer = await fetch(addressOf('tile', { photo, level: 0, column: 0, row: 0 }));
    if (answer.ok) return null;
    const why = declined(answer.status, await answer.json().catch(() => null));
    return why instanceof NobodyAnswers ? null : why.message;
  } catch {
    // The head of the page says that nobody answers.
    return null;
  }
}
