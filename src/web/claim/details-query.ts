import { queryOptions } from '@tanstack/react-query';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** What lies behind the claim on a specimen; takes a second on a busy machine, so it comes after the sentence. */
export const claimDetailsQuery = (study: string, specimen: string) =>
  queryOptions({
    queryKey: ['study', study, 'claim-details', specimen],
    queryFn: () => heard(ask('claimDetails', { study, specimen })),
    staleTime: 15_000,
  });
