import { describe, expect, it } from 'vitest';
import { labelCode, readLabelCode } from './label-code.ts';

const SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXY';
const idOf = (n: number) => `00000000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`;

describe('label codes', () => {
  it('are read back however they are typed', () => {
    const code = labelCode('0191c6a2-77aa-7b3c-9f00-a1b2c3d4e5f6');
    expect(code).toMatch(/^[0-9A-Y]{4}-[0-9A-Y]{4}$/);
    expect(readLabelCode(` ${code.toLowerCase().replace('-', ' ')} `)).toBe(code);
    const digits = labelCode(idOf(31 ** 5 * 2));
    expect(readLabelCode(digits.replaceAll('0', 'O').replaceAll('1', 'l').replaceAll('2', 'Z'))).toBe(digits);
  });

  it('notice every single wrong sign and every exchange of neighbours', () => {
    for (const n of [1, 77, 123_456_789, 2 ** 35 + 12_345]) {
      const signs = labelCode(idOf(n)).replace('-', '');
      for (let at = 0; at < signs.length; at++) {
        for (const sign of SIGNS) {
          if (sign === signs[at]) continue;
          expect(readLabelCode(signs.slice(0, at) + sign + signs.slice(at + 1))).toBeNull();
        }
        const [a, b] = [signs[at], signs[at + 1]];
        if (at > signs.length - 3 || a === b) continue;
        expect(readLabelCode(signs.slice(0, at) + b + a + signs.slice(at + 2))).toBeNull();
      }
    }
  });

  it('do not take what is no code, and throw on what is no id', () => {
    expect(readLabelCode('1234')).toBeNull();
    expect(readLabelCode('ÄÄÄÄ-ÄÄÄÄ')).toBeNull();
    expect(() => labelCode('run 1')).toThrow(RangeError);
  });

  it('differ between records made one after the other', () => {
    expect(new Set(Array.from({ length: 5000 }, (_, n) => labelCode(idOf(n)))).size).toBe(5000);
  });
});
