/**
 * Answers of an outside reader as a short text that survives mail: one line a picture, and a check over all of it at the end.
 */
import { CALLS, type Call, GUESSES, type Guess } from '../../study/index.ts';
import { done, type Outcome, refused } from '../../units/index.ts';

export interface PacketAnswer {
  readonly code: string;
  readonly pass: 1 | 2;
  readonly called: Call;
  readonly guess: Guess | null;
}

export interface PacketAnswers {
  readonly round: string;
  readonly reader: string;
  readonly keyHash: string;
  readonly answers: readonly PacketAnswer[];
}

const HEAD = 'retentate answers 1';

/** FNV-1a, 32 bits: finds a line that was lost or a letter that was changed on the way; it is no seal. */
export function checkOf(text: string): string {
  let hash = 0x811c9dc5;
  for (let k = 0; k < text.length; k++) {
    hash ^= text.charCodeAt(k);
    hash = Math.imul(hash, 0x01000193);
  }
  return (hash >>> 0).toString(16).padStart(8, '0');
}

export function writeAnswers({ round, reader, keyHash, answers }: PacketAnswers): string {
  const lines = [
    HEAD,
    `round ${round}`,
    `reader ${reader}`,
    `key ${keyHash}`,
    ...answers.map(({ code, pass, called, guess }) => `${code} ${pass} ${called} ${guess ?? '-'}`),
  ];
  return `${[...lines, `check ${checkOf(lines.join('\n'))}`].join('\n')}\n`;
}

const no = (message: string) => refused({ why: 'not-answers', message });
const isOneOf = <T extends string>(list: readonly T[], word: string | undefined): word is T =>
  list.includes(word as T);

/** Reads them out of any text around: mail programs quote, indent and add. Refuses with the line. */
export function readAnswers(text: string): Outcome<PacketAnswers> {
  const lines = text
    .slice(0, 1_000_000)
    .split(/\r?\n/)
    .map((line) => line.replace(/^[>\s]+/, '').trim());
  const from = lines.indexOf(HEAD);
  if (from < 0)
    return no(`No answers are in this text: they begin with “${HEAD}”. Paste all that the packet shows.`);
  const to = lines.findIndex((line, k) => k > from && line.startsWith('check '));
  if (to < 0)
    return no('The last line, “check …”, is missing: the text was cut. Paste all that the packet shows.');
  const own = lines.slice(from, to).filter((line) => line !== '');
  if (lines[to] !== `check ${checkOf(own.join('\n'))}`) {
    return no(
      'A line was changed or lost on the way: the check at the end does not fit. Ask for the text or the file again.',
    );
  }
  const named = (name: string): string | undefined =>
    own.find((line) => line.startsWith(`${name} `))?.slice(name.length + 1);
  const [round, reader, keyHash] = [named('round'), named('reader'), named('key')];
  if (!round || !reader || !keyHash) return no('The text does not say of which round and reader it is.');
  const answers: PacketAnswer[] = [];
  for (const line of own.slice(4)) {
    const [code, pass, called, guess] = line.split(' ');
    if (!code || !/^[12]$/.test(pass ?? '') || !isOneOf(CALLS, called)) {
      return no(`The line “${line.slice(0, 60)}” is no answer.`);
    }
    answers.push({
      code,
      pass: pass === '2' ? 2 : 1,
      called,
      guess: isOneOf(GUESSES, guess) ? guess : null,
    });
  }
  return answers.length === 0
    ? no('The text holds no answer yet.')
    : done({ round, reader, keyHash, answers });
}
