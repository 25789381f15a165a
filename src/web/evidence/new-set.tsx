import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Section } from '../look/parts.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { OF_EACH, RECIPES } from './drill-recipes.ts';
import { mixed } from './drill-run.tsx';

/** A set as anybody can make it: chosen materials, so many of each. */
export function NewSet({ study, first }: { study: string; first: boolean }) {
  const client = useQueryClient();
  const [name, setName] = useState(first ? 'Our known pieces' : '');
  const [each, setEach] = useState(String(OF_EACH));
  const [without, setWithout] = useState<ReadonlySet<string>>(new Set());
  const chosen = RECIPES.filter((one) => !without.has(one.material));
  const add = useMutation({
    mutationFn: () =>
      heard(
        ask(
          'addKnownSet',
          { study },
          {
            name,
            made: chosen.map((one) => `${one.material}: ${one.how}`).join(' '),
            // numbered in mixed order, so that a number tells nothing of its material
            pieces: mixed(chosen.flatMap((one) => Array.from({ length: Number(each) }, () => one))).map(
              (one, at) => ({
                key: String(at + 1),
                material: one.material,
                class: one.class,
                shape: 'fragment' as const,
                colour: 'white' as const,
                size_um: null,
                particle: null,
              }),
            ),
          },
        ),
      ),
    onSuccess: () => {
      setName('');
      void client.invalidateQueries({ queryKey: ['study', study] });
    },
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    add.mutate();
  };
  const change = (material: string, kept: boolean) => {
    const next = new Set(without);
    if (kept) next.delete(material);
    else next.add(material);
    setWithout(next);
  };
  return (
    <Section
      title={first ? 'Make a set' : 'Another set'}
      lead="Pieces in numbered wells of a glass dish. Chance gives each well its material; whoever lays them out should not be the one who scores. These recipes are common practice."
    >
      <form className="sheet" onSubmit={submit}>
        <ul className="recipes">
          {RECIPES.map((one) => (
            <li key={one.material}>
              <label>
                <input
                  type="checkbox"
                  checked={!without.has(one.material)}
                  onChange={(event) => change(one.material, event.currentTarget.checked)}
                />
                <span>
                  <strong>{one.material}</strong> <small>{one.how}</small>
                </span>
              </label>
            </li>
          ))}
        </ul>
        <div className="fields">
          <div className="field">
            <label htmlFor="set-name">Name of the set</label>
            <input id="set-name" value={name} onChange={(event) => setName(event.currentTarget.value)} />
          </div>
          <div className="field">
            <label htmlFor="set-each">Pieces of each</label>
            <input
              id="set-each"
              type="number"
              min={1}
              max={20}
              value={each}
              onChange={(event) => setEach(event.currentTarget.value)}
            />
          </div>
        </div>
        {add.error ? (
          <p role="alert" className="sheet-problem">
            {add.error.message}
          </p>
        ) : null}
        <div className="sheet-deeds">
          <button type="submit" className="button primary" disabled={name.trim() === '' || add.isPending}>
            Write the set down
          </button>
        </div>
      </form>
    </Section>
  );
}
