import { useQuery } from '@tanstack/react-query';
import { pathTo } from '../app/where.ts';
import { meQuery } from '../server/queries.ts';
import { SignOut } from './sign-out.tsx';
import { WhoWorks } from './who-works.tsx';

/** Who works: chosen on a laboratory of one machine, signed in on a group's. */
export function WhoIsHere() {
  const me = useQuery(meQuery).data;
  if (!me) return null;
  if (!me.accounts) return <WhoWorks />;
  if (!me.account) return null;
  const { name, role } = me.account;
  return (
    <p className="who-works">
      <a href={pathTo({ page: 'account' })} aria-label={`Your account: ${name}, ${role}`}>
        <span>
          {name}, {role}
        </span>
        <span className="who-short">Account</span>
      </a>
      {role === 'owner' ? <a href={pathTo({ page: 'people' })}>People</a> : null}
      <SignOut quiet />
    </p>
  );
}
