import { useQueryClient } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { Icon } from '../look/icons.tsx';
import { addressOf, declined, NobodyAnswers } from '../server/ask.ts';
import { workingHeader } from '../server/working.ts';
import type { Bench } from './use-bench.ts';

/** Pictures of how it was set up, by the telephone's own camera; originals are kept as they are. */
export function SetupPhotos({ bench, step }: { bench: Bench; step: string | null }) {
  const client = useQueryClient();
  const input = useRef<HTMLInputElement>(null);
  const [state, setState] = useState<string | null>(null);
  const { run, study } = { run: bench.sheet.run.id, study: bench.sheet.run.study };
  const mine = bench.sheet.setup_photos.filter((photo) => photo.step === step);
  const take = async (files: readonly File[]) => {
    setState('Sending …');
    try {
      for (const file of files) await send(run, step, file);
      setState(null);
      await client.invalidateQueries({ queryKey: ['sheet', run] });
      await client.invalidateQueries({ queryKey: ['study', study, 'bench'] });
    } catch (error) {
      setState((error as Error).message);
    }
  };
  return (
    <div className="setup-photos">
      {mine.length > 0 ? (
        <ul>
          {mine.map((photo) => (
            <li key={photo.id}>
              <a href={addressOf('setupOriginal', { picture: photo.id })} download={photo.name}>
                <img
                  src={addressOf('setupPicture', { picture: photo.id })}
                  alt={`Set-up, ${photo.name}`}
                  width={photo.width_px}
                  height={photo.height_px}
                  loading="lazy"
                />
              </a>
            </li>
          ))}
        </ul>
      ) : null}
      <input
        ref={input}
        type="file"
        accept="image/*"
        multiple
        hidden
        aria-label="Picture of the set-up"
        onChange={(event) => {
          void take([...(event.currentTarget.files ?? [])]);
          event.currentTarget.value = '';
        }}
      />
      <button type="button" className="button" onClick={() => input.current?.click()}>
        <Icon name="photo" /> Picture of the set-up
      </button>
      {state ? <p role="status">{state}</p> : null}
    </div>
  );
}

async function send(run: string, step: string | null, file: File): Promise<void> {
  const query = new URLSearchParams({ name: file.name || 'set-up.jpg', ...(step ? { step } : {}) });
  let answer: Response;
  try {
    answer = await fetch(`${addressOf('addSetupPhoto', { run })}?${query}`, {
      method: 'PUT',
      headers: { 'content-type': 'application/octet-stream', ...workingHeader() },
      body: file,
    });
  } catch {
    throw new NobodyAnswers();
  }
  if (!answer.ok) throw declined(answer.status, await answer.json().catch(() => null));
}
