import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import type { EvidenceAnswer } from '../../api/index.ts';
import { go } from '../app/where.ts';
import { Nothing, Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { ask } from '../server/ask.ts';
import { heard } from '../server/queries.ts';
import { MakePacket } from './make-packet.tsx';
import { toEvidence } from './paths.ts';

export const STAGE_WORDS: Readonly<Record<EvidenceAnswer['rounds'][number]['stage'], string>> = {
  scoring: 'being scored',
  third: 'waits for the third scorer',
  ready: 'locked, ready to be opened',
  opened: 'open',
  'taken-over': 'open, taken over as marks',
  elsewhere: 'sealed; its key stayed in the laboratory that drew it',
};

export function RoundsSection({ study, evidence }: { study: string; evidence: EvidenceAnswer }) {
  const [sealing, setSealing] = useState(false);
  const { rounds } = evidence;
  return (
    <Section
      title="Scoring without knowing"
      lead="Pictures of runs and controls, mixed, turned, under neutral codes. The key is sealed until everybody has locked."
    >
      {rounds.length === 0 && !sealing ? (
        <Nothing icon="evidence" title="No round yet">
          <p>
            Who knows which filter is the product’s sees more on it. In a round nobody knows: known pieces are
            slipped in, some pictures come twice, and guesses show whether the blind holds.
          </p>
        </Nothing>
      ) : (
        <ul className="rows">
          {rounds.map((one) => (
            <li key={one.id}>
              <a href={toEvidence(study, `round-${one.id}`)}>
                <span className="row-name">{one.name}</span>
                <span>{many(one.pictures, one.what === 'fields' ? 'field' : 'picture')}</span>
                <span className="row-says">{STAGE_WORDS[one.stage]}</span>
              </a>
            </li>
          ))}
        </ul>
      )}
      {sealing ? (
        <SealRound study={study} evidence={evidence} onLeave={() => setSealing(false)} />
      ) : (
        <p className="section-deed">
          <button type="button" className="button" onClick={() => setSealing(true)}>
            Seal a round
          </button>
        </p>
      )}
      <MakePacket study={study} />
    </Section>
  );
}

function SealRound({
  study,
  evidence,
  onLeave,
}: {
  study: string;
  evidence: EvidenceAnswer;
  onLeave: () => void;
}) {
  const client = useQueryClient();
  const { people, sets, working } = evidence;
  const photographed = sets.filter((set) => set.pieces.some((piece) => piece.particle !== null));
  const other = people.find((person) => person.id !== working)?.id ?? '';
  const [wish, setWish] = useState({
    name: `Round ${evidence.rounds.length + 1}`,
    what: 'pieces' as 'pieces' | 'fields',
    first: working,
    second: other,
    third: '',
    known: photographed[0]?.id ?? '',
    most: '',
    decisive: false,
    guess: '30',
    again: '10',
  });
  const set = (change: Partial<typeof wish>) => setWish((known) => ({ ...known, ...change }));
  const seal = useMutation({
    mutationFn: () =>
      heard(
        ask(
          'sealRound',
          { study },
          {
            name: wish.name,
            what: wish.what,
            scorers: [wish.first, wish.second].filter((person) => person !== ''),
            third: wish.third || null,
            known_set: wish.what === 'pieces' && wish.known !== '' ? wish.known : null,
            decisive: wish.decisive && wish.most !== '',
            most_of_each: wish.most === '' ? (wish.what === 'fields' ? 20 : null) : Number(wish.most),
            guess_share: Number(wish.guess) / 100,
            again_share: Number(wish.again) / 100,
          },
        ),
      ),
    onSuccess: ({ id }) => {
      void client.invalidateQueries({ queryKey: ['study', study] });
      go(toEvidence(study, `round-${id}`));
    },
  });
  const submit = (event: FormEvent) => {
    event.preventDefault();
    seal.mutate();
  };
  const person = (name: string, field: 'first' | 'second' | 'third', optional: boolean) => (
    <div className="field">
      <label htmlFor={`seal-${field}`}>{name}</label>
      <select
        id={`seal-${field}`}
        value={wish[field]}
        onChange={(event) => set({ [field]: event.currentTarget.value })}
      >
        {optional ? <option value="">nobody</option> : null}
        {people.map((one) => (
          <option key={one.id} value={one.id}>
            {one.name}
          </option>
        ))}
      </select>
    </div>
  );
  return (
    <form className="sheet" onSubmit={submit} aria-label="Seal a round">
      <h2>Seal a round</h2>
      <p className="sheet-lead">
        A draw by chance gives every picture a code and a turn. Its key is hashed now, and this program shows
        it to nobody until it is opened. Whoever can read the database by other means could look: the hash
        shows that the key was not changed, the guesses whether somebody knew.
      </p>
      <div className="fields">
        <div className="field">
          <label htmlFor="seal-name">Name</label>
          <input
            id="seal-name"
            value={wish.name}
            onChange={(event) => set({ name: event.currentTarget.value })}
          />
        </div>
        <div className="field">
          <label htmlFor="seal-what">What is scored</label>
          <select
            id="seal-what"
            value={wish.what}
            onChange={(event) => set({ what: event.currentTarget.value as 'pieces' | 'fields' })}
          >
            <option value="pieces">pieces that the program found: plastic or not</option>
            <option value="fields">fields of the filter: which pieces are there</option>
          </select>
        </div>
        {person('First scorer', 'first', false)}
        {person('Second scorer', 'second', true)}
        {person('Third, for what they disagree on', 'third', true)}
        {wish.what === 'pieces' ? (
          <div className="field">
            <label htmlFor="seal-known">Known pieces to slip in</label>
            <select
              id="seal-known"
              value={wish.known}
              onChange={(event) => set({ known: event.currentTarget.value })}
            >
              <option value="">none</option>
              {photographed.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.name}
                </option>
              ))}
            </select>
            <span className="field-hint">Sets whose pieces were photographed.</span>
          </div>
        ) : null}
        <div className="field">
          <label htmlFor="seal-most">
            {wish.what === 'fields' ? 'Fields of each side' : 'At most of each side'}
          </label>
          <input
            id="seal-most"
            type="number"
            min={1}
            placeholder={wish.what === 'fields' ? '20' : 'all'}
            value={wish.most}
            onChange={(event) => set({ most: event.currentTarget.value })}
          />
        </div>
        {wish.what === 'pieces' && wish.most !== '' ? (
          <div className="field">
            <label htmlFor="seal-decisive">Which of them</label>
            <select
              id="seal-decisive"
              value={wish.decisive ? 'decisive' : 'chance'}
              onChange={(event) => set({ decisive: event.currentTarget.value === 'decisive' })}
            >
              <option value="chance">drawn by chance</option>
              <option value="decisive">those on which the claim hangs most</option>
            </select>
            <span className="field-hint">
              What is found on pieces that were picked holds for them, not for the rest.
            </span>
          </div>
        ) : null}
        <div className="field">
          <label htmlFor="seal-guess">Guess on</label>
          <span className="field-line">
            <input
              id="seal-guess"
              type="number"
              min={0}
              max={100}
              value={wish.guess}
              onChange={(event) => set({ guess: event.currentTarget.value })}
            />
            <span className="field-unit">% of pictures</span>
          </span>
        </div>
        <div className="field">
          <label htmlFor="seal-again">Show twice</label>
          <span className="field-line">
            <input
              id="seal-again"
              type="number"
              min={0}
              max={100}
              value={wish.again}
              onChange={(event) => set({ again: event.currentTarget.value })}
            />
            <span className="field-unit">% of pictures</span>
          </span>
        </div>
      </div>
      {seal.error ? (
        <p role="alert" className="sheet-problem">
          {seal.error.message}
        </p>
      ) : null}
      <div className="sheet-deeds">
        <button type="submit" className="button primary" disabled={seal.isPending}>
          Seal
        </button>
        <button type="button" className="button quiet" onClick={onLeave}>
          Leave it
        </button>
      </div>
    </form>
  );
}
