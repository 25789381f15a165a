import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { AccountsAnswer, InvitationJson } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { Choice, Field } from '../look/fields.tsx';
import { momentWords } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { accountsQuery, heard } from '../server/queries.ts';
import { CodeShown } from './code-shown.tsx';
import { EnterForm } from './enter-form.tsx';
import { ROLE_CHOICES, type Role } from './roles.ts';

const NEW = '';

/** A code for one person; in the name of somebody whose records are here already only where an owner says so. */
export function Invite({ people }: { people: AccountsAnswer['without_account'] }) {
  const client = useQueryClient();
  const [role, setRole] = useState<Role>('bench');
  const [note, setNote] = useState('');
  const [person, setPerson] = useState(NEW);
  const whose = people.find((one) => one.person === person);
  const invite = useMutation({
    mutationFn: () => heard(ask('invite', {}, { role, note, ...(whose ? { person } : {}) })),
    onSuccess: () => void client.invalidateQueries({ queryKey: accountsQuery.queryKey }),
  });
  return (
    <EnterForm
      deed="Make a code"
      work={invite}
      after={
        invite.data ? (
          <CodeShown made={invite.data}>Hand this on; it is shown once and lets one person in.</CodeShown>
        ) : null
      }
    >
      <Choice label="Role" value={role} set={setRole} options={ROLE_CHOICES} />
      {people.length === 0 ? null : (
        <Choice
          label="In whose name"
          value={whose ? person : NEW}
          set={setPerson}
          options={[
            [NEW, 'somebody new'],
            ...people.map((one) => [one.person, `${one.name}, in the records already`] as const),
          ]}
          hint={
            whose
              ? 'Whoever uses the code becomes this person, with all records in that name.'
              : 'Whoever uses the code cannot take a name that stands in the records.'
          }
        />
      )}
      <Field label="For whom" value={note} set={setNote} hint="A word to yourself." />
    </EnterForm>
  );
}

/** Codes that were made: what became of each, and taking back one that is open. */
export function Invitations({ invitations }: { invitations: readonly InvitationJson[] }) {
  const client = useQueryClient();
  const back = useMutation({
    mutationFn: (invitation: string) => heard(ask('takeBackInvitation', { invitation })),
    onSettled: () => void client.invalidateQueries({ queryKey: accountsQuery.queryKey }),
    onError: (failure) => say(failure.message),
  });
  return (
    <ul className="codes">
      {invitations.map((one) => (
        <li key={one.id} className={one.state === 'open' ? 'open' : undefined}>
          <p>
            <strong>{forWhat(one)}</strong> {fateOf(one)}
          </p>
          <p className="codes-made">
            Made {momentWords(one.made_at)} by {one.by ?? 'whoever started the server'}.
          </p>
          {one.state === 'open' ? (
            <button
              type="button"
              className="button quiet"
              disabled={back.isPending}
              aria-label={`Take back: ${forWhat(one)}`}
              onClick={() => back.mutate(one.id)}
            >
              Take back
            </button>
          ) : null}
        </li>
      ))}
    </ul>
  );
}

function forWhat({ purpose, role, note, person }: InvitationJson): string {
  if (purpose === 'password') return `A new password for ${person}`;
  const whom = [person, note].filter(Boolean).join(', ');
  return `${whom === '' ? 'Somebody' : whom}, as ${role}`;
}

function fateOf({ state, ends_at, over_at, over_by }: InvitationJson): string {
  const over = `${over_at === null ? '' : momentWords(over_at)}${over_by === null ? '' : ` by ${over_by}`}`;
  return {
    open: `is open until ${momentWords(ends_at)}.`,
    used: `was used ${over}.`,
    'taken-back': `was taken back ${over}.`,
    'run-out': `ran out ${momentWords(ends_at)}.`,
  }[state];
}
