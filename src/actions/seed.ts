import type { Names } from './ports.ts';

/** A seed that nobody chose: the chance in a fresh identity. It is written down beside what it drew. */
export const freshSeed = (names: Names): number =>
  Number.parseInt(names.next().replaceAll('-', '').slice(-12), 16);
