import { completenessJson } from '../api/index.ts';
import type { PhotoSearch } from '../cli/index.ts';
import { completenessOnPhotos } from '../decode/index.ts';
import { done } from '../units/index.ts';

export const completeness: PhotoSearch['completeness'] = async (photos, wish, told, signal) => {
  const stopped = new Promise<void>((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });
  const measured = await completenessOnPhotos(photos, wish, told, stopped);
  return measured.ok ? done(completenessJson(measured.value)) : measured;
};
