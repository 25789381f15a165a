import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { Section } from '../look/parts.tsx';
import { lengthWords, many } from '../look/words.ts';
import { ParticlePicture } from '../looking/particle-picture.tsx';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { RECIPES } from './drill-recipes.ts';
import { useKnownPhotos } from './known-photos.ts';

/** Known pieces that were photographed: choose a material, then touch every piece that is of it. */
export function SetFromPhoto({ study }: { study: string }) {
  const client = useQueryClient();
  const { photos, pieces } = useKnownPhotos(study);
  const [chosen, setChosen] = useState('');
  const [material, setMaterial] = useState(RECIPES[0]!.material);
  const [named, setNamed] = useState<ReadonlyMap<string, string>>(new Map());
  const [name, setName] = useState('');
  const photo = photos.find((one) => one.id === chosen) ?? photos[0];
  const shown = [...pieces.values()].filter((one) => one.photo.id === photo?.id);
  const add = useMutation({
    mutationFn: () =>
      heard(
        ask(
          'addKnownSet',
          { study },
          {
            name,
            made: RECIPES.filter((one) => [...named.values()].includes(one.material))
              .map((one) => `${one.material}: ${one.how}`)
              .join(' '),
            pieces: [...named].map(([id, of], at) => {
              const { particle } = pieces.get(id)!;
              return {
                key: `K${at + 1}`,
                material: of,
                class: RECIPES.find((one) => one.material === of)!.class,
                shape: particle.shape,
                colour: particle.colour,
                size_um: particle.feret_max_um,
                particle: id,
              };
            }),
          },
        ),
      ),
    onSuccess: () => {
      setName('');
      setNamed(new Map());
      void client.invalidateQueries({ queryKey: ['study', study] });
    },
  });
  const touch = (id: string) => {
    const next = new Map(named);
    if (next.get(id) === material) next.delete(id);
    else next.set(id, material);
    setNamed(next);
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    add.mutate();
  };
  return (
    <Section
      title="A set on a photograph"
      lead="Pieces that were photographed can be slipped into a blinded round, and drilled on by their pictures."
    >
      {photo === undefined ? (
        <p className="reading">
          Lay known pieces on a filter of the same kind, enter a run of the kind “known material”, photograph
          it with the optics of the real filters and bring the photograph in. Its pieces then stand here.
        </p>
      ) : (
        <form className="sheet" onSubmit={submit}>
          {photos.length > 1 ? (
            <label>
              Photograph{' '}
              <select value={photo.id} onChange={(event) => setChosen(event.currentTarget.value)}>
                {photos.map((one) => (
                  <option key={one.id} value={one.id}>
                    {one.name}
                  </option>
                ))}
              </select>
            </label>
          ) : null}
          <p>
            <label>
              These are{' '}
              <select value={material} onChange={(event) => setMaterial(event.currentTarget.value)}>
                {RECIPES.map((one) => (
                  <option key={one.material} value={one.material}>
                    {one.material}
                  </option>
                ))}
              </select>
            </label>{' '}
            Touch each piece that is of it.
          </p>
          <ul className="known-pieces">
            {shown.map(({ particle }) => (
              <li key={particle.id}>
                <button
                  type="button"
                  aria-pressed={named.has(particle.id)}
                  onClick={() => touch(particle.id)}
                >
                  <ParticlePicture photo={photo} particle={particle} side={84} />
                  <span>{named.get(particle.id) ?? lengthWords(particle.feret_max_um)}</span>
                  <span className="unseen"> particle {particle.number}</span>
                </button>
              </li>
            ))}
          </ul>
          <div className="fields">
            <div className="field">
              <label htmlFor="photo-set-name">Name of the set</label>
              <input
                id="photo-set-name"
                value={name}
                onChange={(event) => setName(event.currentTarget.value)}
              />
            </div>
          </div>
          {add.error ? (
            <p role="alert" className="sheet-problem">
              {add.error.message}
            </p>
          ) : null}
          <div className="sheet-deeds">
            <button
              type="submit"
              className="button primary"
              disabled={name.trim() === '' || named.size === 0 || add.isPending}
            >
              Write {many(named.size, 'piece')} down
            </button>
          </div>
        </form>
      )}
    </Section>
  );
}
