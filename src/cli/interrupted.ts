import type { Terminal } from './tools.ts';

/** Resolves when somebody presses Ctrl-C. */
export const interrupted = ({ signal }: Terminal): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    else signal.addEventListener('abort', () => resolve(), { once: true });
  });
