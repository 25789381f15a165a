import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import type { AccountActJson, AccountJson } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { Choice } from '../look/fields.tsx';
import { momentWords } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { accountsQuery, heard, meQuery } from '../server/queries.ts';
import { CodeShown } from './code-shown.tsx';
import { ROLES, type Role } from './roles.ts';

/** One account: its role, closing it, and a way back for whoever forgot the password. */
export function Account({ account }: { account: AccountJson }) {
  const client = useQueryClient();
  const own = useQuery(meQuery).data?.account?.person === account.person;
  const readAnew = () => void client.invalidateQueries({ queryKey: accountsQuery.queryKey });
  const change = useMutation({
    mutationFn: (role: Role | null) => heard(ask('changeAccount', { person: account.person }, { role })),
    onSuccess: readAnew,
    onError: (failure) => say(failure.message),
  });
  const code = useMutation({
    mutationFn: () => heard(ask('codeForPassword', { person: account.person })),
    onSuccess: readAnew,
    onError: (failure) => say(failure.message),
  });
  return (
    <li>
      <p className="account-who">
        <strong>{account.name}</strong> <span>{account.login}</span>
        {account.closed ? <em> closed</em> : null}
      </p>
      <Choice
        label={`Role of ${account.name}`}
        value={account.role}
        set={(role) => change.mutate(role)}
        options={ROLES}
      />
      <p className="account-deeds">
        {account.closed ? (
          <button type="button" className="button" onClick={() => change.mutate(account.role)}>
            Open again
          </button>
        ) : (
          <>
            {own ? null : (
              <button
                type="button"
                className="button quiet"
                disabled={code.isPending}
                onClick={() => code.mutate()}
              >
                Forgot the password
              </button>
            )}
            <button type="button" className="button quiet" onClick={() => change.mutate(null)}>
              Close
            </button>
          </>
        )}
      </p>
      {code.data && !account.closed ? (
        <CodeShown made={code.data}>
          Hand this to {account.name}; it is shown once and sets a new password, once, under <em>Sign in</em>.
        </CodeShown>
      ) : null}
    </li>
  );
}

/** What was done with the accounts, and by whom. */
export function Acts({ acts }: { acts: readonly AccountActJson[] }) {
  return (
    <ol className="acts">
      {acts.map((act) => (
        <li key={`${act.at} ${act.whose}`}>
          <time dateTime={act.at}>{momentWords(act.at)}</time> {wordsOf(act)}
        </li>
      ))}
    </ol>
  );
}

function wordsOf({ deed, by, whose, role, closed, code_by }: AccountActJson): string {
  const who = by ?? 'Somebody';
  if (deed === 'change-password') return `${whose} changed their password.`;
  if (deed === 'new-password')
    return `${whose} set a new password with a code of ${code_by ?? 'whoever runs the server'}.`;
  if (closed) return `${who} closed the account of ${whose}.`;
  return `${who} made ${whose} ${role}.`;
}
