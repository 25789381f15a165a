import { type FormEvent, type InputHTMLAttributes, type ReactNode, useId } from 'react';

export { typedNumber } from './typed-number.ts';

/** A line to write in: its name above, its unit behind, what it means beneath. */
export function Field({
  label,
  value,
  set,
  unit,
  hint,
  wide = false,
  ...input
}: {
  label: string;
  value: string;
  set: (value: string) => void;
  unit?: string;
  hint?: ReactNode;
  wide?: boolean;
} & Omit<InputHTMLAttributes<HTMLInputElement>, 'value' | 'onChange'>) {
  const id = useId();
  return (
    <div className={wide ? 'field wide' : 'field'}>
      <label htmlFor={id}>{label}</label>
      <span className="field-line">
        <input
          {...input}
          id={id}
          value={value}
          onChange={(event) => set(event.currentTarget.value)}
          aria-describedby={hint ? `${id}-hint` : undefined}
        />
        {unit ? <span className="field-unit">{unit}</span> : null}
      </span>
      {hint ? (
        <small id={`${id}-hint`} className="field-hint">
          {hint}
        </small>
      ) : null}
    </div>
  );
}

/** A field for a number; decimals with point or comma, the unit behind. */
export function NumberField(props: Parameters<typeof Field>[0]) {
  return <Field inputMode="decimal" autoComplete="off" {...props} />;
}

export function Choice<T extends string>({
  label,
  value,
  set,
  options,
  hint,
  wide = false,
}: {
  label: string;
  value: T;
  set: (value: T) => void;
  options: readonly (readonly [value: T, words: string])[];
  hint?: ReactNode;
  wide?: boolean;
}) {
  const id = useId();
  return (
    <div className={wide ? 'field wide' : 'field'}>
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        onChange={(event) => set(event.currentTarget.value as T)}
        aria-describedby={hint ? `${id}-hint` : undefined}
      >
        {options.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
      {hint ? (
        <small id={`${id}-hint`} className="field-hint">
          {hint}
        </small>
      ) : null}
    </div>
  );
}

/** A form that is worked in place: its fields, what could not be taken, and the deed. */
export function Sheet({
  title,
  lead,
  problem,
  deed,
  busy = false,
  onSubmit,
  onClose,
  children,
}: {
  title: string;
  lead?: ReactNode;
  problem: string | null;
  deed: string;
  busy?: boolean;
  onSubmit: () => void;
  onClose?: () => void;
  children: ReactNode;
}) {
  const submit = (event: FormEvent) => {
    event.preventDefault();
    onSubmit();
  };
  return (
    <form className="sheet" aria-label={title} onSubmit={submit} noValidate>
      <h2>{title}</h2>
      {lead ? <p className="sheet-lead">{lead}</p> : null}
      <div className="fields">{children}</div>
      {problem ? (
        <p className="sheet-problem" role="alert">
          {problem}
        </p>
      ) : null}
      <p className="sheet-deeds">
        <button type="submit" className="button primary" disabled={busy}>
          {deed}
        </button>
        {onClose ? (
          <button type="button" className="button quiet" onClick={onClose}>
            Leave it
          </button>
        ) : null}
      </p>
    </form>
  );
}
