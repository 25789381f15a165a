import { sql as laboratory } from './0001-laboratory.ts';

/** In order. A released one is never edited: migrations.test.ts holds their hashes. Changes only add. */
export const MIGRATIONS: readonly { readonly name: string; readonly sql: string }[] = [
  { name: '0001-laboratory', sql: laboratory },
];
