import { useState } from 'react';
import { Field } from '../look/fields.tsx';

const RULE = 'At least 15 characters; a few words in a row are easy to keep in mind.';

/** A password to type; a new one can be looked at, since whoever mistypes it is locked out. */
export function PasswordField({
  label = 'Password',
  isNew = false,
  ...rest
}: {
  label?: string;
  isNew?: boolean;
  value: string;
  set: (value: string) => void;
}) {
  const [shown, setShown] = useState(false);
  return (
    <div className="password">
      <Field
        {...rest}
        label={label}
        type={shown ? 'text' : 'password'}
        autoComplete={isNew ? 'new-password' : 'current-password'}
        spellCheck={false}
        autoCapitalize="none"
        required
        hint={isNew ? RULE : undefined}
      />
      {isNew ? (
        <label className="password-shown">
          <input
            type="checkbox"
            checked={shown}
            onChange={(event) => setShown(event.currentTarget.checked)}
          />
          Show it
        </label>
      ) : null}
    </div>
  );
}
