import { done, type Outcome, refused } from '../units/index.ts';

/** 0 takes any port that is free. */
export function readPort(text: string): Outcome<number> {
  const port = Number(text);
  return /^[0-9]{1,5}$/.test(text.trim()) && port <= 65535
    ? done(port)
    : refused({
        why: 'out-of-range',
        message: `“${text}” is not a port: a whole number from 0 to 65535 is needed.`,
      });
}

/** Pictures for each run: from 0 to 60. */
export function readPictures(text: string): Outcome<number> {
  const many = Number(text);
  return /^[0-9]{1,2}$/.test(text.trim()) && many <= 60
    ? done(many)
    : refused({ why: 'out-of-range', message: `“${text}” is no number of pictures: 0 to 60 are taken.` });
}
