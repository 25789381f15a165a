import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { go, pathTo } from '../app/where.ts';
import { Field } from '../look/fields.tsx';
import { PlaceHead } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';

/** The way into a group's laboratory. What was being looked at is there again afterwards. */
export function SignIn() {
  const client = useQueryClient();
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const enter = useMutation({
    mutationFn: () => heard(ask('signIn', {}, { login, password })),
    onSuccess: () => void client.invalidateQueries(),
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    enter.mutate();
  };
  return (
    <div className="page">
      <PlaceHead
        title="Sign in"
        lead="This laboratory is shared; each record carries the name of who made it."
      />
      <form className="enter" onSubmit={submit}>
        <Field label="Login" value={login} set={setLogin} autoComplete="username" required />
        <Field
          label="Password"
          type="password"
          value={password}
          set={setPassword}
          autoComplete="current-password"
          required
        />
        <button type="submit" className="button primary" disabled={enter.isPending}>
          Sign in
        </button>
        {enter.error ? <p role="alert">{enter.error.message}</p> : null}
      </form>
      <p>
        Invited and new here? <a href={pathTo({ page: 'join' })}>Join with your code</a>.
      </p>
    </div>
  );
}

/** An invitation becomes an account. */
export function Join() {
  const client = useQueryClient();
  const [code, setCode] = useState('');
  const [name, setName] = useState('');
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const join = useMutation({
    mutationFn: () => heard(ask('join', {}, { code, name, login, password })),
    onSuccess: () => {
      go(pathTo({ page: 'studies' }), { replace: true });
      void client.invalidateQueries();
    },
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    join.mutate();
  };
  return (
    <div className="page">
      <PlaceHead
        title="Join"
        lead="An owner of the laboratory gave you a code; it lets one person in, once."
      />
      <form className="enter" onSubmit={submit}>
        <Field label="Code" value={code} set={setCode} autoComplete="off" required />
        <Field
          label="Name"
          value={name}
          set={setName}
          autoComplete="name"
          required
          hint="As it stands beside your records."
        />
        <Field label="Login" value={login} set={setLogin} autoComplete="username" required />
        <Field
          label="Password"
          type="password"
          value={password}
          set={setPassword}
          autoComplete="new-password"
          required
          hint="At least 15 characters; a few words in a row are easy to keep in mind."
        />
        <button type="submit" className="button primary" disabled={join.isPending}>
          Join
        </button>
        {join.error ? <p role="alert">{join.error.message}</p> : null}
      </form>
      <p>
        You have an account? <a href={pathTo({ page: 'studies' })}>Sign in</a>.
      </p>
    </div>
  );
}
