import { Presets, SingleBar } from 'cli-progress';
import type { Terminal } from './tools.ts';

export interface ProgressBar {
  /** `share` of one more piece of work is done. */
  tick(share: number): void;
  /** Takes the bar away so that a line can be printed; the next tick draws it again. */
  clear(): void;
  stop(): void;
}

const nothing: ProgressBar = { tick() {}, clear() {}, stop() {} };

/** A bar where a person watches, nothing elsewhere. */
export function progressBar(total: number, terminal: Terminal): ProgressBar {
  if (!terminal.watched) return nothing;
  const bar = new SingleBar(
    {
      format: '{bar} {percentage} % of {total}, about {eta_formatted} left',
      clearOnComplete: true,
      hideCursor: true,
      fps: 8,
    },
    Presets.shades_classic,
  );
  bar.start(total, 0);
  let value = 0;
  return {
    tick(share) {
      value = Math.min(total, value + share);
      bar.update(value);
    },
    clear() {
      terminal.err('\r\u001b[K');
    },
    stop: () => bar.stop(),
  };
}

/** Runs work that tells how many of how many are done, with a bar for it. */
export async function withBar<T>(
  terminal: Terminal,
  work: (told: (done: number, of: number) => void) => Promise<T>,
): Promise<T> {
  const bar = progressBar(1, terminal);
  let share = 0;
  try {
    return await work((done, of) => {
      bar.tick(done / of - share);
      share = done / of;
    });
  } finally {
    bar.stop();
  }
}
