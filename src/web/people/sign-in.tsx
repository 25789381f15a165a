import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { go, pathTo } from '../app/where.ts';
import { Field } from '../look/fields.tsx';
import { PlaceHead } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { EnterForm } from './enter-form.tsx';
import { PasswordField } from './password-field.tsx';

/** The way into a group's laboratory. What was being looked at is there again afterwards. */
export function SignIn() {
  const client = useQueryClient();
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const enter = useMutation({
    mutationFn: () => heard(ask('signIn', {}, { login, password })),
    onSuccess: () => void client.invalidateQueries(),
  });
  return (
    <div className="page">
      <PlaceHead
        title="Sign in"
        lead="This laboratory is shared; each record carries the name of who made it."
      />
      <EnterForm deed="Sign in" work={enter}>
        <Field label="Login" value={login} set={setLogin} autoComplete="username" required />
        <PasswordField value={password} set={setPassword} />
      </EnterForm>
      <ul className="ways">
        <li>
          Invited and new here? <a href={pathTo({ page: 'join' })}>Join with your code</a>.
        </li>
        <li>
          Password forgotten? An owner of the laboratory gives you a code to{' '}
          <a href={pathTo({ page: 'new-password' })}>set a new one</a>.
        </li>
      </ul>
    </div>
  );
}

const CodeField = (props: { value: string; set: (value: string) => void }) => (
  <Field label="Code" autoComplete="off" autoCapitalize="none" spellCheck={false} required {...props} />
);

/** Whoever was let in by a code goes to the first page. */
function useWayIn(deed: () => Promise<unknown>) {
  const client = useQueryClient();
  return useMutation({
    mutationFn: () => heard(deed()),
    onSuccess: () => {
      go(pathTo({ page: 'studies' }), { replace: true });
      void client.invalidateQueries();
    },
  });
}

/** An invitation becomes an account. */
export function Join() {
  const [code, setCode] = useState('');
  const [name, setName] = useState('');
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const join = useWayIn(() => ask('join', {}, { code, name, login, password }));
  return (
    <div className="page">
      <PlaceHead
        title="Join"
        lead="An owner of the laboratory gave you a code; it lets one person in, once."
      />
      <EnterForm deed="Join" work={join}>
        <CodeField value={code} set={setCode} />
        <Field
          label="Name"
          value={name}
          set={setName}
          autoComplete="name"
          hint="As it stands beside your records. Leave it empty if you were invited in a name that is here already."
        />
        <Field label="Login" value={login} set={setLogin} autoComplete="username" required />
        <PasswordField isNew value={password} set={setPassword} />
      </EnterForm>
      <p className="ways">
        You have an account? <a href={pathTo({ page: 'studies' })}>Sign in</a>.
      </p>
    </div>
  );
}

/** Somebody who forgot their password, with a code of an owner's. */
export function NewPassword() {
  const [code, setCode] = useState('');
  const [password, setPassword] = useState('');
  const set = useWayIn(() => ask('newPassword', {}, { code, password }));
  return (
    <div className="page">
      <PlaceHead
        title="Set a new password"
        lead="An owner of the laboratory gave you a code; it sets a password once, and signs you out everywhere else."
      />
      <EnterForm deed="Set the password" work={set}>
        <CodeField value={code} set={setCode} />
        <PasswordField isNew label="New password" value={password} set={setPassword} />
      </EnterForm>
      <p className="ways">
        You know your password? <a href={pathTo({ page: 'studies' })}>Sign in</a>.
      </p>
    </div>
  );
}
