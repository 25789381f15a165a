import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { say } from '../app/notices.tsx';
import { Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { accountsQuery, heard, meQuery, searchesQuery } from '../server/queries.ts';
import { Account, Acts } from './accounts-list.tsx';
import { Invitations, Invite } from './invitations.tsx';
import { OnePerson } from './one-person.tsx';

/** Accounts, codes, and photographs that were set aside: what an owner looks after. */
export function PeoplePage() {
  const { data, error, refetch } = useQuery(accountsQuery);
  if (useQuery(meQuery).data?.accounts === false) return <OnePerson title="People" />;
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the accounts" />;
  const { accounts, invitations, acts } = data;
  const open = invitations.filter((one) => one.state === 'open');
  const over = invitations.filter((one) => one.state !== 'open');
  return (
    <div className="page">
      <PlaceHead title="People" lead="Who may do what in this laboratory." />
      <Section
        title="Accounts"
        lead="A change of role holds at once; closing signs out everywhere, and can be undone."
      >
        <ul className="accounts">
          {accounts.map((account) => (
            <Account key={account.person} account={account} />
          ))}
        </ul>
      </Section>
      <Section title="Invite somebody">
        <Invite people={data.without_account} />
      </Section>
      <Section
        title="Codes"
        lead={open.length === 0 ? 'None is open.' : `${many(open.length, 'code')} can still be used.`}
      >
        <Invitations invitations={open} />
        {over.length === 0 ? null : (
          <details className="codes-over">
            <summary>{many(over.length, 'code')} used, taken back or run out</summary>
            <Invitations invitations={over} />
          </details>
        )}
      </Section>
      {acts.length === 0 ? null : (
        <Section title="What was done with accounts" lead="The latest first; no password is kept.">
          <Acts acts={acts} />
        </Section>
      )}
      <Searches />
    </div>
  );
}

function Searches() {
  const client = useQueryClient();
  const { data } = useQuery(searchesQuery);
  const again = useMutation({
    mutationFn: (photo: string) => heard(ask('searchAgain', { photo })),
    onSuccess: () => void client.invalidateQueries({ queryKey: ['searches'] }),
    onError: (failure) => say(failure.message),
  });
  if (!data) return null;
  const of = (state: string) => data.searches.filter((one) => one.state === state);
  const aside = [...of('set-aside'), ...of('refused')];
  return (
    <Section
      title="Photographs being searched"
      lead={`${of('waiting').length} wait, ${of('searching').length} are being searched, ${of('searched').length} are done.`}
    >
      <ul className="reasons">
        {aside.map((one) => (
          <li key={one.photo}>
            {one.reason}{' '}
            <button type="button" className="button quiet" onClick={() => again.mutate(one.photo)}>
              Search again
            </button>
          </li>
        ))}
      </ul>
    </Section>
  );
}
