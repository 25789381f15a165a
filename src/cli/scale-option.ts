import {
  done,
  type MicrometresPerPixel,
  type Millimetres,
  mm,
  type Outcome,
  readMicrometres,
  readMillimetres,
  refused,
  umPerPx,
} from '../units/index.ts';

/** "4.2um/px": a length and the word px, nothing guessed. */
export function readScale(text: string): Outcome<MicrometresPerPixel> {
  const parts = /^\s*(.+?)\s*\/\s*(px|pixel)\s*$/i.exec(text);
  if (!parts) {
    return refused({
      why: 'not-a-scale',
      message: `“${text}” is not a scale: write a length a pixel, such as 4.2um/px.`,
    });
  }
  const length = readMicrometres(parts[1]!);
  if (!length.ok) return length;
  return length.value > 0
    ? done(umPerPx(length.value))
    : refused({ why: 'out-of-range', message: `“${text}” is not a scale: the length must be above 0.` });
}

/** Distance of the printed lines; 0.1 to 50 mm covers every printed membrane. */
export function readPitch(text: string): Outcome<Millimetres> {
  const pitch = readMillimetres(text);
  if (!pitch.ok || (pitch.value >= 0.1 && pitch.value <= 50)) return pitch.ok ? done(mm(pitch.value)) : pitch;
  return refused({
    why: 'out-of-range',
    message: `“${text}” is not a pitch of a printed grid: 0.1mm to 50mm is allowed.`,
  });
}

export function readFalseFinds(text: string): Outcome<number> {
  const value = Number(text);
  return text.trim() !== '' && value > 0 && value <= 1000
    ? done(value)
    : refused({ why: 'out-of-range', message: `“${text}”: a number above 0, at most 1000, is needed.` });
}
