import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { PortionWish, SpecimenJson, SpecimenWish } from '../../api/index.ts';
import { Choice, Field, NumberField, Sheet, typedNumber } from '../look/fields.tsx';
import { Nothing, Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { Withdraw, WithdrawnHere } from '../runs/withdrawal.tsx';
import { ask } from '../server/ask.ts';
import { heard, specimensQuery } from '../server/queries.ts';

const MASS_WORDS: { readonly [M in SpecimenJson['portions'][number]['mass_is']]: string } = {
  'product-before': 'mass of the product before',
  'product-after': 'mass of the product after',
  'food-or-liquid': 'mass of the food or liquid',
};

/** The things under test and their portions: what one run uses, weighed. */
export function Specimens({ study }: { study: string }) {
  const { data } = useQuery(specimensQuery(study));
  const [adding, setAdding] = useState<string | null>(null);
  if (!data) return null;
  return (
    <Section
      title="Specimens and portions"
      lead="A specimen is a thing under test; a portion is the part of it that one run uses. The answer is divided by the portion’s mass."
    >
      {data.specimens.length === 0 && adding === null ? (
        <Nothing icon="question" title="No specimen yet">
          <p>
            Enter the product that you test, with its lot and age, and beside it another one for comparison if
            there is one. Then weigh a portion for each run: six are a good number, pieces of one lot.
          </p>
        </Nothing>
      ) : null}
      <ul className="specimens">
        {data.specimens.map((specimen) => (
          <li key={specimen.id} className="specimen">
            <h3>{specimen.name}</h3>
            <p>
              {specimen.role === 'product' ? 'The product asked about' : 'For comparison'}
              {facts(specimen)}
            </p>
            {specimen.portions.length > 0 ? (
              <ul className="tags">
                {specimen.portions.map((portion) => (
                  <li key={portion.id}>
                    <strong>{portion.name}</strong> {portion.mass_g} g, {MASS_WORDS[portion.mass_is]}
                    {portion.pieces === null ? '' : `, ${many(portion.pieces, 'piece')}`}
                    {portion.used_by === null ? ' · not used yet' : ''}
                    <Withdraw study={study} what="portion" subject={portion.id} name={portion.name} />
                  </li>
                ))}
              </ul>
            ) : (
              <p className="fine">No portion weighed yet.</p>
            )}
            {adding === specimen.id ? (
              <PortionForm study={study} specimen={specimen} close={() => setAdding(null)} />
            ) : (
              <button type="button" className="button" onClick={() => setAdding(specimen.id)}>
                Weigh a portion of {specimen.name}
              </button>
            )}
          </li>
        ))}
      </ul>
      {adding === 'specimen' ? (
        <SpecimenForm study={study} first={data.specimens.length === 0} close={() => setAdding(null)} />
      ) : (
        <button type="button" className="button primary" onClick={() => setAdding('specimen')}>
          Add a specimen
        </button>
      )}
      <WithdrawnHere study={study} kinds={['portion']} />
    </Section>
  );
}

const facts = ({ material, maker, lot, age, mass_g }: SpecimenJson): string =>
  [material, maker, lot && `lot ${lot}`, age, mass_g === null ? '' : `${mass_g} g`]
    .filter((fact) => fact !== '')
    .map((fact) => ` · ${fact}`)
    .join('');

function useSaved(study: string, close: () => void) {
  const client = useQueryClient();
  return () => {
    void client.invalidateQueries({ queryKey: ['study', study] });
    close();
  };
}

function SpecimenForm({ study, first, close }: { study: string; first: boolean; close: () => void }) {
  const saved = useSaved(study, close);
  const save = useMutation({
    mutationFn: (wish: SpecimenWish) => heard(ask('addSpecimen', { study }, wish)),
    onSuccess: saved,
  });
  const [own, setOwn] = useState<string | null>(null);
  const [mass, setMass] = useState('');
  const [wish, setWish] = useState<Omit<SpecimenWish, 'mass_g'>>({
    name: '',
    role: first ? 'product' : 'comparison',
    maker: '',
    lot: '',
    age: '',
    material: '',
    note: '',
  });
  const put = (field: 'name' | 'maker' | 'lot' | 'age' | 'material' | 'note') => (value: string) =>
    setWish({ ...wish, [field]: value });
  const submit = () => {
    const read = mass.trim() === '' ? null : typedNumber(mass);
    if (mass.trim() !== '' && read === null) return setOwn(`Mass: “${mass}” is not a number.`);
    setOwn(null);
    save.mutate({ ...wish, mass_g: read });
  };
  return (
    <Sheet
      title="A specimen"
      problem={own ?? save.error?.message ?? null}
      deed="Keep the specimen"
      busy={save.isPending}
      onSubmit={submit}
      onClose={close}
    >
      <Field label="Name" value={wish.name} set={put('name')} placeholder="Worn board" />
      <Choice
        label="It is"
        value={wish.role}
        set={(role) => setWish({ ...wish, role })}
        options={[
          ['product', 'the product asked about'],
          ['comparison', 'another one, for comparison'],
        ]}
      />
      <Field label="Material" value={wish.material} set={put('material')} placeholder="polyethylene, white" />
      <Field label="Maker" value={wish.maker} set={put('maker')} />
      <Field label="Lot" value={wish.lot} set={put('lot')} />
      <Field label="Age and use" value={wish.age} set={put('age')} placeholder="five years of use" />
      <NumberField label="Mass of the whole" unit="g" value={mass} set={setMass} />
      <Field wide label="Note" value={wish.note} set={put('note')} />
    </Sheet>
  );
}

function PortionForm({
  study,
  specimen,
  close,
}: {
  study: string;
  specimen: SpecimenJson;
  close: () => void;
}) {
  const saved = useSaved(study, close);
  const save = useMutation({
    mutationFn: (wish: PortionWish) => heard(ask('addPortion', { specimen: specimen.id }, wish)),
    onSuccess: saved,
  });
  const [own, setOwn] = useState<string | null>(null);
  const [name, setName] = useState(`${specimen.name} ${specimen.portions.length + 1}`);
  const [mass, setMass] = useState('');
  const [pieces, setPieces] = useState('');
  const [is, setIs] = useState<PortionWish['mass_is']>(specimen.portions[0]?.mass_is ?? 'product-before');
  const submit = () => {
    const grams = typedNumber(mass);
    const many = pieces.trim() === '' ? null : typedNumber(pieces);
    if (grams === null) return setOwn('Mass: write the mass of the portion in grams, in figures.');
    if (pieces.trim() !== '' && many === null) return setOwn(`Pieces: “${pieces}” is not a number.`);
    setOwn(null);
    save.mutate({ name, mass_g: grams, mass_is: is, pieces: many, note: '' });
  };
  return (
    <Sheet
      title={`A portion of ${specimen.name}`}
      problem={own ?? save.error?.message ?? null}
      deed="Keep the portion"
      busy={save.isPending}
      onSubmit={submit}
      onClose={close}
    >
      <Field label="Name" value={name} set={setName} />
      <NumberField label="Mass" unit="g" value={mass} set={setMass} />
      <Choice
        label="Which mass"
        value={is ?? 'product-before'}
        set={setIs}
        options={[
          ['product-before', MASS_WORDS['product-before']],
          ['product-after', MASS_WORDS['product-after']],
          ['food-or-liquid', MASS_WORDS['food-or-liquid']],
        ]}
      />
      <NumberField label="Pieces" value={pieces} set={setPieces} hint="Empty: not counted." />
    </Sheet>
  );
}
