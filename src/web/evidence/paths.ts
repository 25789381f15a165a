import { pathTo } from '../app/where.ts';

/** Addresses inside the evidence: one subset, round or scoring. */
export const toEvidence = (study: string, item: string | null = null): string =>
  pathTo({ page: 'evidence', study, item });
