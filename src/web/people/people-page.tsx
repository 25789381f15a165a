import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { AccountJson } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { pathTo } from '../app/where.ts';
import { Choice, Field } from '../look/fields.tsx';
import { Failed, Nothing, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { accountsQuery, heard, meQuery, networkQuery, searchesQuery } from '../server/queries.ts';

type Role = AccountJson['role'];
const ROLES: readonly (readonly [Role, string])[] = [
  ['owner', 'owner: everything, and who may do what'],
  ['bench', 'bench: runs, photographs, marks, tests, rounds'],
  ['scorer', 'scorer: blinded rounds alone, nothing that would unblind'],
  ['reader', 'reader: sees all, changes nothing'],
];

/** Accounts, invitations, and photographs that were set aside: what an owner looks after. */
export function PeoplePage() {
  const { data, error, refetch } = useQuery(accountsQuery);
  if (useQuery(meQuery).data?.accounts === false) return <OnePerson />;
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data) return <Waiting what="the accounts" />;
  const open = data.invitations.filter((one) => !one.used && !one.run_out);
  return (
    <div className="page">
      <PlaceHead title="People" lead="Who may do what in this laboratory." />
      <Section title="Accounts">
        <ul className="accounts">
          {data.accounts.map((account) => (
            <Account key={account.person} account={account} />
          ))}
        </ul>
      </Section>
      <Section
        title="Invite somebody"
        lead={open.length === 0 ? 'No invitation is open.' : `${many(open.length, 'invitation')} open.`}
      >
        <Invite />
      </Section>
      <Searches />
    </div>
  );
}

/** A laboratory of one person: says so, and how it becomes a group's. */
function OnePerson() {
  const network = useQuery(networkQuery).data;
  return (
    <div className="page">
      <PlaceHead title="People" lead="Who may do what in this laboratory." />
      <Nothing icon="question" title="This laboratory is one person’s">
        <p>
          It has no accounts: whoever sits at this computer works in it, under the name chosen at the top of
          the page.{' '}
          {network === undefined ? null : network.open ? (
            <>
              It is open to the network: {many(network.devices.length, 'paired telephone')} can reach the
              bench of it; see <a href={pathTo({ page: 'network' })}>telephones at the bench</a>.
            </>
          ) : (
            'Nobody else can reach it.'
          )}
        </p>
        <p>
          Several people with logins and roles work on a group’s server: <code>retentate serve</code>. A study
          moves there as an archive, from <em>Take it with you</em> in its claim.
        </p>
      </Nothing>
    </div>
  );
}

function Account({ account }: { account: AccountJson }) {
  const client = useQueryClient();
  const change = useMutation({
    mutationFn: (role: Role | null) => heard(ask('changeAccount', { person: account.person }, { role })),
    onSuccess: () => void client.invalidateQueries({ queryKey: ['accounts'] }),
    onError: (failure) => say(failure.message),
  });
  return (
    <li>
      <strong>{account.name}</strong>
      <span>{account.login}</span>
      <Choice
        label={`Role of ${account.name}`}
        value={account.role}
        set={(role) => change.mutate(role)}
        options={ROLES}
      />
      {account.closed ? (
        <button type="button" className="button" onClick={() => change.mutate(account.role)}>
          Open again
        </button>
      ) : (
        <button type="button" className="button quiet" onClick={() => change.mutate(null)}>
          Close
        </button>
      )}
      {account.closed ? <em>closed</em> : null}
    </li>
  );
}

function Invite() {
  const client = useQueryClient();
  const [role, setRole] = useState<Role>('bench');
  const [note, setNote] = useState('');
  const invite = useMutation({
    mutationFn: () => heard(ask('invite', {}, { role, note })),
    onSuccess: () => void client.invalidateQueries({ queryKey: ['accounts'] }),
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    invite.mutate();
  };
  return (
    <form className="enter" onSubmit={submit}>
      <Choice label="Role" value={role} set={setRole} options={ROLES} />
      <Field label="For whom" value={note} set={setNote} hint="A word to yourself." />
      <button type="submit" className="button primary" disabled={invite.isPending}>
        Make a code
      </button>
      {invite.data ? (
        <p role="status">
          Hand this on; it is shown once and lets one person in until {invite.data.ends_at.slice(0, 10)}:{' '}
          <code className="code">{invite.data.code}</code>
        </p>
      ) : null}
      {invite.error ? <p role="alert">{invite.error.message}</p> : null}
    </form>
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
