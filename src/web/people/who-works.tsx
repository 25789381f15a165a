import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { ask } from '../server/ask.ts';
import { heard, peopleQuery } from '../server/queries.ts';
import { useWorking, workAs } from '../server/working.ts';

const NEW = 'new';

/** Who is working: chosen once, then every record made on this page carries the name. */
export function WhoWorks() {
  const client = useQueryClient();
  const { data } = useQuery(peopleQuery);
  const chosen = useWorking();
  const [adding, setAdding] = useState(false);
  const [name, setName] = useState('');
  const add = useMutation({
    mutationFn: (wanted: string) => heard(ask('addPerson', {}, { name: wanted })),
    onSuccess: ({ id }) => {
      choose(id);
      setAdding(false);
      setName('');
    },
  });
  if (!data) return null;
  const here = data.people.some((person) => person.id === chosen) ? chosen! : data.working;
  const choose = (id: string) => {
    workAs(id);
    void client.invalidateQueries();
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (name.trim() !== '') add.mutate(name);
  };
  if (adding) {
    return (
      <form className="who-works" aria-label="A person who works here" onSubmit={submit}>
        <input
          aria-label="Name"
          placeholder="Name"
          value={name}
          onChange={(event) => setName(event.currentTarget.value)}
          // biome-ignore lint/a11y/noAutofocus: the field was asked for by the choice just made.
          autoFocus
        />
        <button type="submit" className="button" disabled={add.isPending}>
          Add
        </button>
        <button type="button" className="button quiet" onClick={() => setAdding(false)}>
          Leave it
        </button>
        {add.error ? <span role="alert">{add.error.message}</span> : null}
      </form>
    );
  }
  return (
    <label className="who-works">
      <span>Working</span>
      <select
        aria-label="Working"
        value={here}
        onChange={(event) => {
          const wanted = event.currentTarget.value;
          if (wanted === NEW) setAdding(true);
          else choose(wanted);
        }}
      >
        {data.people.map((person) => (
          <option key={person.id} value={person.id}>
            {person.name}
          </option>
        ))}
        <option value={NEW}>Somebody else …</option>
      </select>
    </label>
  );
}
