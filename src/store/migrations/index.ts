import { sql as laboratory } from './0001-laboratory.ts';
import { sql as plans } from './0002-plans.ts';
import { sql as bench } from './0003-bench.ts';
import { sql as evidence } from './0004-evidence.ts';
import { sql as groups } from './0005-groups.ts';
import { sql as spectra } from './0006-spectra.ts';
import { sql as publishedValues } from './0007-published-values.ts';
import { sql as joinings } from './0008-joinings.ts';
import { sql as completeness } from './0009-completeness.ts';
import { sql as searching } from './0010-searching.ts';
import { sql as weighings } from './0011-weighings.ts';
import { sql as falseFinds } from './0012-false-finds.ts';
import { sql as photoMoves } from './0013-photo-moves.ts';
import { sql as withdrawals } from './0014-withdrawals.ts';
import { sql as codes } from './0015-codes.ts';

/** In order. A released one is never edited: migrations.test.ts holds their hashes. Changes only add. */
export const MIGRATIONS: readonly { readonly name: string; readonly sql: string }[] = [
  { name: '0001-laboratory', sql: laboratory },
  { name: '0002-plans', sql: plans },
  { name: '0003-bench', sql: bench },
  { name: '0004-evidence', sql: evidence },
  { name: '0005-groups', sql: groups },
  { name: '0006-spectra', sql: spectra },
  { name: '0007-published-values', sql: publishedValues },
  { name: '0008-joinings', sql: joinings },
  { name: '0009-completeness', sql: completeness },
  { name: '0010-searching', sql: searching },
  { name: '0011-weighings', sql: weighings },
  { name: '0012-false-finds', sql: falseFinds },
  { name: '0013-photo-moves', sql: photoMoves },
  { name: '0014-withdrawals', sql: withdrawals },
  { name: '0015-codes', sql: codes },
];
