import { useMutation, useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard, meQuery } from '../server/queries.ts';
import { EnterForm } from './enter-form.tsx';
import { OnePerson } from './one-person.tsx';
import { PasswordField } from './password-field.tsx';
import { ROLE_DOES } from './roles.ts';
import { SignOut } from './sign-out.tsx';

/** What is one's own in a group: who one is here, and the password. */
export function OwnAccount() {
  const me = useQuery(meQuery).data;
  if (!me) return <Waiting what="your account" />;
  if (!me.accounts) return <OnePerson title="Your account" />;
  if (!me.account) return null;
  const { name, login, role } = me.account;
  return (
    <div className="page">
      <PlaceHead
        title="Your account"
        lead={`${name}, who signs in as “${login}”. Your role is ${role}: ${ROLE_DOES[role]}.`}
      >
        <SignOut />
      </PlaceHead>
      <Section
        title="Change the password"
        lead="You stay signed in here; everywhere else this account is signed out."
      >
        <ChangePassword />
      </Section>
    </div>
  );
}

function ChangePassword() {
  const [old, setOld] = useState('');
  const [password, setPassword] = useState('');
  const change = useMutation({
    mutationFn: () => heard(ask('changePassword', {}, { old, password })),
    onSuccess: () => {
      setOld('');
      setPassword('');
    },
  });
  return (
    <EnterForm
      deed="Change it"
      work={change}
      after={change.isSuccess ? <p role="status">The password is changed.</p> : null}
    >
      <PasswordField label="Old password" value={old} set={setOld} />
      <PasswordField isNew label="New password" value={password} set={setPassword} />
    </EnterForm>
  );
}
