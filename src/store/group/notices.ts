/** Word from the database, across broken lines: what it tells on a channel, and when the telling was interrupted. */
import type pg from 'pg';

/** So often the line is tried; silent for so long it is taken for broken, even where nobody closed it. */
const SIGN_MS = 10_000;
const SILENT_MS = 5_000;
const AGAIN_MS = 1_000;

export interface NoticesWish {
  readonly pool: pg.Pool;
  readonly channel: string;
  readonly hear: (payload: string) => void;
  /** Called each time the line was taken up, the first time too: what was told before must be read elsewhere. */
  readonly takenUp: () => Promise<void>;
  readonly log: (text: string) => void;
}

interface Line {
  /** Resolves when nothing more will be heard on it. */
  readonly broken: Promise<void>;
  /** May be called again. */
  end(): void;
}

async function takeUp({ pool, channel, hear }: NoticesWish): Promise<Line> {
  const client = await pool.connect();
  let sign: NodeJS.Timeout | undefined;
  let broke = (): void => {};
  const broken = new Promise<void>((resolve) => {
    broke = resolve;
  });
  let ended = false;
  const end = (): void => {
    if (ended) return;
    ended = true;
    clearInterval(sign);
    client.removeAllListeners('notification');
    client.release(true);
    broke();
  };
  client.on('notification', ({ payload }) => payload && hear(payload));
  client.on('error', () => broke());
  try {
    await client.query(`listen ${channel}`);
  } catch (failure) {
    end();
    throw failure;
  }
  sign = setInterval(() => {
    const late = setTimeout(broke, SILENT_MS);
    client
      .query('select 1')
      .catch(broke)
      .finally(() => clearTimeout(late));
  }, SIGN_MS);
  sign.unref();
  return { broken, end };
}

/** Hears until the given function is called; throws when the first taking up fails. */
export async function notices(wish: NoticesWish): Promise<() => void> {
  let line = await takeUp(wish);
  let closed = false;
  try {
    await wish.takenUp();
  } catch (failure) {
    line.end();
    throw failure;
  }
  const again = async (): Promise<boolean> => {
    try {
      line = await takeUp(wish);
      if (closed) line.end();
      else await wish.takenUp();
      return true;
    } catch (failure) {
      line.end();
      wish.log(`word of searches: ${failure instanceof Error ? failure.message : String(failure)}`);
      return false;
    }
  };
  const keep = async (): Promise<void> => {
    while (!closed) {
      await line.broken;
      line.end();
      while (!closed && !(await again())) {
        await new Promise<void>((resume) => setTimeout(resume, AGAIN_MS).unref());
      }
    }
  };
  void keep();
  return () => {
    closed = true;
    line.end();
  };
}
