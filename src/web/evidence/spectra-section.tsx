import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { KnownSpectrumJson, PieceSpectrumJson, SpectraAnswer } from '../../api/index.ts';
import { Icon } from '../look/icons.tsx';
import { Failed, Section } from '../look/parts.tsx';
import { many } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { addressOf, ask, NobodyAnswers } from '../server/ask.ts';
import { putFile } from '../server/put-file.ts';
import { heard } from '../server/queries.ts';
import { SPECTRUM_FILES } from './spectra-attach.tsx';

const spectraKey = (study: string) => ['study', study, 'spectra'];

/** Spectra of pieces with what they are like, and the known materials that they are held against. */
export function SpectraSection({ study }: { study: string }) {
  const { data, error, refetch } = useQuery({
    queryKey: spectraKey(study),
    queryFn: () => heard(ask('spectra', { study })),
  });
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  return (
    <Section
      title="Spectra"
      id="spectra"
      lead="An infrared or Raman spectrum of a piece is held against spectra of materials that you know. Measure those on the same instrument: nothing tells materials apart better than your own."
    >
      {data ? <Pieces pieces={data.pieces} /> : null}
      {data ? <Known study={study} known={data.known} doubted={data.doubted} /> : null}
      <p>
        <MethodLink name="spectra" />
      </p>
    </Section>
  );
}

function Pieces({ pieces }: { pieces: SpectraAnswer['pieces'] }) {
  const [open, setOpen] = useState<string | null>(null);
  if (pieces.length === 0) {
    return (
      <p>
        No piece has a spectrum yet. Draw pieces for the test “Spectrum” above; each then takes its file where
        its answer is recorded.
      </p>
    );
  }
  return (
    <ul className="spectra">
      {pieces.map((piece) => (
        <li key={piece.id}>
          <button
            type="button"
            className="spectrum-row"
            aria-expanded={open === piece.id}
            onClick={() => setOpen(open === piece.id ? null : piece.id)}
          >
            <span className="spectrum-answer">{piece.answer ?? 'cannot tell'}</span>
            <Likeness piece={piece} />
            <span className="spectrum-of">
              piece {piece.number}, {piece.technique === 'raman' ? 'Raman' : 'infrared'}, {piece.name}
            </span>
          </button>
          {open === piece.id ? <SpectrumPicture piece={piece} /> : null}
        </li>
      ))}
    </ul>
  );
}

function Likeness({ piece }: { piece: PieceSpectrumJson }) {
  if (piece.likeness === null) return <span className="spectrum-likeness">nothing to compare</span>;
  const share = Math.max(0, Math.min(1, piece.likeness));
  return (
    <span className="spectrum-likeness">
      <span className="likeness-bar" aria-hidden="true">
        <span style={{ inlineSize: `${share * 100}%` }} />
      </span>
      {piece.likeness.toFixed(2)}
    </span>
  );
}

function SpectrumPicture({ piece }: { piece: PieceSpectrumJson }) {
  const { data, error } = useQuery({
    queryKey: ['spectrum', piece.id],
    queryFn: () => heard(picture(piece.id)),
    staleTime: 60_000,
  });
  return (
    <div className="spectrum-picture">
      <p>{piece.says}</p>
      {error ? <p role="alert">{error.message}</p> : null}
      {data ? (
        <div
          className="drawing"
          // biome-ignore lint/security/noDangerouslySetInnerHtml: our own chart function, which escapes every name.
          dangerouslySetInnerHTML={{ __html: data }}
        />
      ) : null}
      <p>
        <a href={addressOf('spectrumOriginal', { spectrum: piece.id })} download={piece.name}>
          The file as it was brought in
        </a>
      </p>
    </div>
  );
}

async function picture(spectrum: string): Promise<string> {
  const width = Math.round(Math.max(320, Math.min(960, window.innerWidth - 64)));
  const answer = await fetch(`${addressOf('spectrumPicture', { spectrum })}?width=${width}`).catch(() => {
    throw new NobodyAnswers();
  });
  if (!answer.ok) throw new Error('The picture of this spectrum cannot be drawn now.');
  return answer.text();
}

function Known({
  study,
  known,
  doubted,
}: {
  study: string;
  known: readonly KnownSpectrumJson[];
  doubted: readonly string[];
}) {
  const client = useQueryClient();
  const [material, setMaterial] = useState('');
  const bring = useMutation({
    mutationFn: async (files: readonly File[]) => {
      const refused: string[] = [];
      for (const file of files) {
        await putFile<KnownSpectrumJson>(
          'addKnownSpectrum',
          { study },
          { name: file.name || 'spectrum', material: material.trim() },
          file,
        ).catch((error: Error) => refused.push(error.message));
      }
      return refused;
    },
    onSettled: () => void client.invalidateQueries({ queryKey: spectraKey(study) }),
  });
  const materials = new Map<string, number>();
  for (const one of known) materials.set(one.material, (materials.get(one.material) ?? 0) + 1);
  return (
    <>
      <h3>Known materials</h3>
      {known.length === 0 ? (
        <p>
          None yet. Measure what you have in the house: bags, bottles, your specimen itself, cotton, wool,
          hair, paper, soap. A few of each, plastics and look-alikes; from five families and thirty spectra
          on, the threshold is set on them.
        </p>
      ) : (
        <ul className="known-materials">
          {[...materials].map(([name, count]) => (
            <li key={name}>
              {name} <small>{many(count, 'spectrum', 'spectra')}</small>
            </li>
          ))}
        </ul>
      )}
      {doubted.map((sentence) => (
        <p key={sentence} className="fine warned">
          {sentence}
        </p>
      ))}
      <div className="results-form spectra-form">
        <label>
          Material
          <input
            value={material}
            placeholder="by the name of the file"
            onChange={(event) => setMaterial(event.currentTarget.value)}
          />
        </label>
        <label className="button take-picture">
          <Icon name="add" /> {bring.isPending ? 'Bringing in …' : 'Bring in spectra of known materials'}
          <input
            type="file"
            multiple
            accept={SPECTRUM_FILES}
            className="unseen"
            disabled={bring.isPending}
            onChange={(event) => {
              const files = [...(event.currentTarget.files ?? [])];
              event.currentTarget.value = '';
              if (files.length > 0) bring.mutate(files);
            }}
          />
        </label>
      </div>
      {bring.data?.map((message) => (
        <p key={message} role="alert" className="sheet-problem">
          {message}
        </p>
      ))}
    </>
  );
}
