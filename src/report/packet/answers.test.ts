import { describe, expect, it } from 'vitest';
import { checkOf, readAnswers, writeAnswers } from './answers.ts';

const answers = {
  round: 'r1',
  reader: 'p1',
  keyHash: 'ab12',
  answers: [
    { code: 'K7Q', pass: 1, called: 'plastic', guess: 'control' },
    { code: 'M2X', pass: 2, called: 'cannot-tell', guess: null },
  ],
} as const;

describe('answers of an outside reader', () => {
  it('check by FNV-1a as published (Fowler, Noll, Vo: “a” is e40c292c, “foobar” bf9cf968)', () => {
    expect([checkOf(''), checkOf('a'), checkOf('foobar')]).toEqual(['811c9dc5', 'e40c292c', 'bf9cf968']);
  });

  it('come back as they were given, from a mail that quotes them too', () => {
    const text = writeAnswers(answers);
    expect(readAnswers(text)).toEqual({ ok: true, value: answers });
    const mail = `Dear all,\n\n${text.replaceAll(/^/gm, '> ')}\nbest\n`;
    expect(readAnswers(mail.replaceAll('\n', '\r\n'))).toEqual({ ok: true, value: answers });
  });

  it('are refused with a sentence when something is missing or changed', () => {
    const text = writeAnswers(answers);
    const why = (given: string) => {
      const read = readAnswers(given);
      return read.ok ? 'taken' : read.refusal.message;
    };
    expect(why('hello')).toContain('No answers are in this text');
    expect(why(text.replace(/check.*/, ''))).toContain('was cut');
    expect(why(text.replace('plastic', 'other'))).toContain('changed or lost');
    expect(why(text.replace(/M2X.*\n/, ''))).toContain('changed or lost');
    expect(why(writeAnswers({ ...answers, answers: [] }))).toContain('no answer yet');
  });
});
