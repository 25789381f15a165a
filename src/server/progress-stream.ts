import type { Context } from 'hono';
import { streamSSE } from 'hono/streaming';
import type { ProgressEvent } from '../api/index.ts';
import type { PhotoQueue } from './photo-queue.ts';

/** A word now and then keeps the connection from being taken for dead. */
const BEAT_MS = 15_000;

/** Server-sent events: the load first, then everything as it happens. */
export const progressStream = (queue: PhotoQueue, c: Context): Response =>
  streamSSE(c, async (stream) => {
    const waiting: ProgressEvent[] = [{ what: 'queue', ...queue.load }];
    let wake = (): void => {};
    const forget = queue.listen((event) => {
      waiting.push(event);
      wake();
    });
    let open = true;
    stream.onAbort(() => {
      open = false;
      forget();
      wake();
    });
    while (open) {
      const event = waiting.shift();
      if (event) {
        await stream.writeSSE({ event: 'progress', data: JSON.stringify(event) });
        continue;
      }
      const woken = await new Promise<boolean>((resolve) => {
        const beat = setTimeout(() => resolve(false), BEAT_MS);
        wake = () => {
          clearTimeout(beat);
          resolve(true);
        };
      });
      if (!woken && open) await stream.write(': still here\n\n');
    }
    forget();
  });
