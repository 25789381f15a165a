import type { Context } from 'hono';
import { streamSSE } from 'hono/streaming';
import type { ProgressEvent } from '../api/index.ts';
import type { PhotoQueue } from './photo-queue.ts';

/** A word now and then keeps the connection from being taken for dead. */
const BEAT_MS = 15_000;
/** A session may end while its stream is open: so often, at most, it is asked after before something is told. */
const ASKED_MS = 5_000;

/** Server-sent events: the load first, then everything as it happens, until whoever hears is no longer `admitted`. */
export const progressStream = (queue: PhotoQueue, c: Context, admitted: () => Promise<boolean>): Response =>
  streamSSE(c, async (stream) => {
    const waiting: ProgressEvent[] = [{ what: 'queue', ...queue.load }];
    let wake = (): void => {};
    const forget = queue.listen((event) => {
      waiting.push(event);
      wake();
    });
    let open = true;
    let asked = performance.now();
    const stillIn = async (): Promise<boolean> => {
      if (performance.now() - asked < ASKED_MS) return true;
      asked = performance.now();
      return admitted().catch(() => false);
    };
    stream.onAbort(() => {
      open = false;
      forget();
      wake();
    });
    while (open) {
      const event = waiting.shift();
      if (!(await stillIn())) break;
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
