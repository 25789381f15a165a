import type { RunKind } from '../study/index.ts';
import { figure, percent } from './charts/index.ts';

/** Kinds of run as people call them. */
export const RUN_WORDS: Readonly<Record<RunKind, string>> = {
  specimen: 'specimen run',
  'reagent-blank': 'reagent blank',
  'procedural-blank': 'procedural blank',
  'matrix-blank': 'matrix blank',
  'act-control': 'act control',
  'air-control': 'air control',
  'filter-blank': 'filter blank',
  'spiked-run': 'spiked run',
  'known-material': 'known material',
};

export const many = (n: number, one: string, more = `${one}s`): string => `${n} ${n === 1 ? one : more}`;

/** a, b and c */
export const inWords = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;

export const upper = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const sentence = (text: string): string => {
  const plain = text.trim();
  return plain === '' || /[.!?]$/.test(plain) ? upper(plain) : `${upper(plain)}.`;
};

export const span = (
  of: { readonly value: number; readonly lower: number; readonly upper: number },
  write: (n: number) => string = figure,
): string => `${write(of.value)} (${write(of.lower)} to ${write(of.upper)})`;

export const share = (of: number | null, none: string): string => (of === null ? none : percent(of));

/** 2026-03-01 09:00 UTC */
export const moment = (instant: string): string => `${instant.slice(0, 10)} ${instant.slice(11, 16)} UTC`;
