import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { pathTo } from '../app/where.ts';
import { ask } from '../server/ask.ts';
import { heard, meQuery } from '../server/queries.ts';
import { WhoWorks } from './who-works.tsx';

export const ROLE_WORDS = {
  owner: 'owner',
  bench: 'bench',
  scorer: 'scorer',
  reader: 'reader',
} as const;

/** Who works: chosen on a laboratory of one machine, signed in on a group's. */
export function WhoIsHere() {
  const client = useQueryClient();
  const me = useQuery(meQuery).data;
  const leave = useMutation({
    mutationFn: () => heard(ask('signOut')),
    onSettled: () => {
      client.clear();
      location.assign('/');
    },
  });
  if (!me) return null;
  if (!me.accounts) return <WhoWorks />;
  if (!me.account) return null;
  return (
    <p className="who-works">
      <span>
        {me.account.name}, {ROLE_WORDS[me.account.role]}
      </span>
      {me.account.role === 'owner' ? <a href={pathTo({ page: 'people' })}>People</a> : null}
      <button type="button" className="button quiet" onClick={() => leave.mutate()}>
        Sign out
      </button>
    </p>
  );
}
