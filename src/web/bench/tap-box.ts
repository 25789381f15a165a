import { useSyncExternalStore } from 'react';
import type { TapDeed } from '../../study/index.ts';
import { ask, Declined } from '../server/ask.ts';
import { onComeback, setPresence } from '../server/presence.ts';
import { type DeviceStore, type DeviceTap, freshId, openDeviceStore } from './device-store.ts';

/**
 * Taps leave in the order in which they were made and stay on the device until the laboratory has acknowledged them. The
 * laboratory does each once by its id, so that sending again is harmless.
 */
export interface TapBox {
  /** Not acknowledged yet, in their order. */
  readonly waiting: readonly DeviceTap[];
  /** Acknowledged since this page was opened: they may be missing from a sheet that was read before. */
  readonly sent: readonly DeviceTap[];
  /** The laboratory would not keep them; they stay here to be read. */
  readonly held: readonly DeviceTap[];
  readonly device: string;
  /** False: this browser forgets taps when the page is closed. */
  readonly lasting: boolean;
  readonly ready: boolean;
}

let box: TapBox = { waiting: [], sent: [], held: [], device: '', lasting: true, ready: false };
let store: DeviceStore | null = null;
let sending = false;
let acknowledged: (studies: ReadonlySet<string>) => void = () => {};
const listeners = new Set<() => void>();

function set(change: Partial<TapBox>): void {
  box = { ...box, ...change };
  for (const listener of listeners) listener();
}

const opening: Promise<DeviceStore> = openDeviceStore().then(async (opened) => {
  store = opened;
  const kept = await opened.all();
  set({
    device: opened.device,
    lasting: opened.lasting,
    ready: true,
    waiting: kept.filter((tap) => tap.held === null),
    held: kept.filter((tap) => tap.held !== null),
  });
  void send();
  return opened;
});
onComeback(() => void send());

/** Told which studies to read anew when taps have arrived. */
export function onTaps(told: (studies: ReadonlySet<string>) => void): void {
  acknowledged = told;
}

/** Resolves when the tap is on the disk of this device; it is sent as soon as the laboratory answers. */
export async function tap(study: string, run: string, deed: TapDeed, id = freshId()): Promise<DeviceTap> {
  const at = new Date().toISOString();
  const made = await (await opening).add({ id, run, study, deed, at, held: null });
  set({ waiting: [...box.waiting, made] });
  void send();
  return made;
}

/** Puts away taps that the laboratory would not keep, once they have been read. */
export async function putAwayHeld(): Promise<void> {
  const device = await opening;
  for (const tap of box.held) await device.remove(tap.number);
  set({ held: [] });
}

const MOST_AT_ONCE = 50;
const AGAIN_MS = 3000;

async function send(): Promise<void> {
  if (sending || store === null) return;
  sending = true;
  try {
    while (box.waiting.length > 0) {
      const batch = box.waiting.slice(0, MOST_AT_ONCE);
      const { taps } = await ask('taps', {}, { taps: batch.map((one) => asSent(one, store!.device)) });
      setPresence(true);
      await settle(batch, new Map(taps.map((answer) => [answer.id, answer])));
    }
  } catch (error) {
    if (!(error instanceof Declined)) setPresence(false);
    // Whatever it was, nothing is lost: the taps stay here and are sent again.
    setTimeout(() => void send(), AGAIN_MS);
  } finally {
    sending = false;
  }
}

const asSent = (one: DeviceTap, device: string) => ({
  id: one.id,
  run: one.run,
  device,
  number: one.number,
  deed: { ...one.deed },
  at: one.at,
});

type Answers = ReadonlyMap<string, { state: string; refusal: { message: string } | null }>;

async function settle(batch: readonly DeviceTap[], answers: Answers): Promise<void> {
  const gone = new Set<number>();
  const sent: DeviceTap[] = [];
  const held: DeviceTap[] = [];
  for (const tap of batch) {
    const answer = answers.get(tap.id);
    if (!answer) continue;
    gone.add(tap.number);
    if (answer.state === 'not-kept') {
      const kept = { ...tap, held: answer.refusal?.message ?? 'The laboratory would not keep it.' };
      await store!.put(kept);
      held.push(kept);
    } else {
      await store!.remove(tap.number);
      sent.push(tap);
    }
  }
  if (gone.size === 0) throw new Error('the answer names none of the taps that were sent');
  set({
    waiting: box.waiting.filter((tap) => !gone.has(tap.number)),
    sent: [...box.sent, ...sent],
    held: [...box.held, ...held],
  });
  acknowledged(new Set(batch.map((tap) => tap.study)));
}

export const useTapBox = (): TapBox =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => box,
  );
