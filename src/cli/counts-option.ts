/** How counts are written on the command line. What cannot be read is refused with what was given and what is allowed. */
import type { CountedControl, CountedPortion, CountingInput } from '../science/counting/index.ts';
import { done, type Outcome, readGrams, readMicrometres, refused } from '../units/index.ts';

const refuse = (why: string, message: string) => refused({ why, message });

function readCount(text: string, of: string): Outcome<number> {
  const plain = text.trim();
  const value = Number(plain);
  return plain !== '' && Number.isSafeInteger(value) && value >= 0
    ? done(value)
    : refuse('count-not-whole', `${of}: given “${plain}”; a whole number of particles from 0 is allowed.`);
}

/** `1.02g:14`, `1.02g/3pieces:14` where the pieces are known, or `worn-1=1.02g:14` with a name. */
export function readPortion(
  text: string,
  number: number,
): Outcome<Omit<CountedPortion, 'passed' | 'examined'>> {
  const parts = /^(?:([^=]*)=)?([^:]*):([^:]*)$/.exec(text);
  const of = `portion “${text}”`;
  if (!parts) {
    const missing = text.includes(':') ? 'it is not written as mass:count' : 'it has no mass or no count';
    return refuse('mass-missing', `${of}: ${missing}; write its mass and its count, such as 1.02g:14.`);
  }
  const [written, inPieces] = parts[2]!.split('/') as [string, string | undefined];
  const pieces = inPieces === undefined ? null : /^\s*([0-9]+)\s*(?:pieces?|pcs?)?\s*$/.exec(inPieces);
  if (inPieces !== undefined && !(Number(pieces?.[1]) > 0)) {
    return refuse(
      'pieces-not-above-zero',
      `${of}: given “${inPieces}”; a whole number of pieces above 0 is allowed, such as 1.02g/3pieces:14.`,
    );
  }
  const mass = readGrams(written);
  if (!mass.ok) return refuse(mass.refusal.why, `${of}: ${mass.refusal.message}`);
  if (mass.value <= 0)
    return refuse('mass-missing', `${of}: given a mass of ${written}; a mass above 0 is allowed.`);
  const count = readCount(parts[3]!, of);
  if (!count.ok) return count;
  return done({
    name: parts[1]?.trim() || `portion ${number}`,
    massG: mass.value,
    count: count.value,
    ...(pieces ? { pieces: Number(pieces[1]) } : {}),
  });
}

/** `3`, or `blank-2=3` with a name. */
export function readBlank(
  text: string,
  number: number,
): Outcome<Omit<CountedControl, 'passed' | 'examined'>> {
  const parts = /^(?:([^=]*)=)?(.*)$/.exec(text)!;
  const count = readCount(parts[2]!, `blank “${text}”`);
  if (!count.ok) return count;
  return done({ name: parts[1]?.trim() || `blank ${number}`, kind: 'blank', count: count.value });
}

/** A share above 0 and at most 1, as 0.8 or 80%. */
export function readShare(text: string, of: string): Outcome<number> {
  const percent = /^\s*([0-9]+(?:[.,][0-9]+)?)\s*%\s*$/.exec(text);
  const value = percent ? Number(percent[1]!.replace(',', '.')) / 100 : Number(text.replace(',', '.'));
  return text.trim() !== '' && value > 0 && value <= 1
    ? done(value)
    : refuse('fraction-out-of-range', `${of}: given “${text}”; a share above 0 and at most 1 is allowed.`);
}

/** `45/50`: so many of so many. */
function readShareOf(text: string, of: string): Outcome<readonly [number, number]> {
  const parts = /^\s*([^/]+)\/([^/]+)\s*$/.exec(text);
  if (!parts) return refuse('not-counts', `${of}: given “${text}”; two counts such as 45/50 are allowed.`);
  const [k, n] = [readCount(parts[1]!, of), readCount(parts[2]!, of)];
  if (!k.ok) return k;
  if (!n.ok) return n;
  if (n.value === 0) return refuse('not-counts', `${of}: given “${text}”; the second count must be above 0.`);
  return done([k.value, n.value]);
}

/** `worn-1=120um,340um`: the sizes of the particles of one portion or blank, each with its unit. */
export function readSizes(
  text: string,
): Outcome<{ readonly name: string; readonly sizesUm: readonly number[] }> {
  const parts = /^([^=]+)=(.*)$/.exec(text);
  if (!parts) {
    return refuse(
      'not-sizes',
      `sizes “${text}”: write the portion’s name and its sizes, such as worn-1=120um,340um.`,
    );
  }
  const sizesUm: number[] = [];
  for (const one of parts[2]!.split(',').filter((part) => part.trim() !== '')) {
    const size = readMicrometres(one);
    if (!size.ok) return refuse(size.refusal.why, `sizes “${text}”: ${size.refusal.message}`);
    sizesUm.push(size.value);
  }
  return done({ name: parts[1]!.trim(), sizesUm });
}

export function readRecovery(text: string): Outcome<NonNullable<CountingInput['recovery']>> {
  const share = readShareOf(text, 'recovery');
  return share.ok ? done({ found: share.value[0], added: share.value[1] }) : share;
}

/** `18/20,2/30`: true pieces kept of those shown, natural pieces kept of those shown. */
export function readDrill(text: string): Outcome<NonNullable<CountingInput['drill']>> {
  const parts = text.split(',');
  if (parts.length !== 2) {
    return refuse('drill-not-counts', `drill: given “${text}”; two shares such as 18/20,2/30 are allowed.`);
  }
  const truePositive = readShareOf(parts[0]!, 'drill, true pieces');
  const falsePositive = readShareOf(parts[1]!, 'drill, natural pieces');
  if (!truePositive.ok) return truePositive;
  if (!falsePositive.ok) return falsePositive;
  return done({ truePositive: truePositive.value, falsePositive: falsePositive.value });
}
