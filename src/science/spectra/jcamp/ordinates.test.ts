import { describe, expect, it } from 'vitest';
import { readOrdinates } from './ordinates.ts';

const unpacked = (text: string): readonly number[] => {
  const line = readOrdinates(text);
  if (!line.ok) throw new Error(line.refusal.message);
  return line.value.values;
};

/** McDonald & Wilks 1988, Appl. Spectrosc. 42:151, §5.2–5.10 and Table VII. */
describe('the published packing lines', () => {
  const ten = [1, 2, 3, 3, 2, 1, 0, -1, -2, -3];
  it.each([
    ['AFFN', '1 2 3 3 2 1 0 -1 -2 -3'],
    ['PAC', '1+2+3+3+2+1+0-1-2-3'],
    ['PAC with blanks', '1 2 3 3 2 1 0-1-2-3'],
    ['SQZ', '1BCCBA@abc'],
    ['SQZ from the first', 'ABCCBA@abc'],
    ['DIF', '1JJ%jjjjjj'],
    ['DIF from the first', 'AJJ%jjjjjj'],
    ['DIFDUP', '1JT%jX'],
  ])('unpack alike: %s', (_form, text) => expect(unpacked(text)).toEqual(ten));

  it.each(['50 50 50 50', '50V', '50%%%', '50%U', 'E0V'])('repeat: %s', (text) =>
    expect(unpacked(text)).toEqual([50, 50, 50, 50]),
  );

  it('run on behind a sign: PAC', () =>
    expect(unpacked('1000+2000-2001+2002 2003 2003 2003')).toEqual([
      1000, 2000, -2001, 2002, 2003, 2003, 2003,
    ]));

  it('take decimals and exponents in AFFN', () => expect(unpacked('.34,66E-2')).toEqual([0.34, 0.66]));

  it('know every pseudo-digit', () => {
    expect(unpacked('@ A B C D E F G H I')).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(unpacked('a b c d e f g h i')).toEqual([-1, -2, -3, -4, -5, -6, -7, -8, -9]);
    expect(unpacked('A0 % J K L M N O P Q R')).toEqual([10, 10, 11, 13, 16, 20, 25, 31, 38, 46, 55]);
    expect(unpacked('A0 j k l m n o p q r')).toEqual([10, 9, 7, 4, 0, -5, -11, -18, -26, -35]);
    expect(unpacked('A s').length).toBe(9);
    expect(unpacked('A S').length).toBe(1);
  });
});

describe('what is no ordinate', () => {
  it.each(['1 2 ? 4', 'Kolbenfresser!', '1 2 #', 'T1', '1 - 2'])('is refused: %s', (text) =>
    expect(readOrdinates(text).ok).toBe(false),
  );
});
