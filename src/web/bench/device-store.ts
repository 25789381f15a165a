/**
 * Where a device keeps its taps until the laboratory has them: the browser's own database, written through to the disk
 * before a tap counts as made. The database also counts the taps, so that two pages of one device never share a number.
 */
import type { TapDeed } from '../../study/index.ts';

export interface DeviceTap {
  readonly number: number;
  readonly id: string;
  readonly run: string;
  readonly study: string;
  readonly deed: TapDeed;
  readonly at: string;
  /** Why the laboratory would not keep it; null: it waits to be sent. */
  readonly held: string | null;
}
export type NewTap = Omit<DeviceTap, 'number'>;

export interface DeviceStore {
  /** Name of this device, made once. */
  readonly device: string;
  /** False: the browser refuses its store, and taps live only as long as the page. */
  readonly lasting: boolean;
  all(): Promise<readonly DeviceTap[]>;
  /** Durable when it resolves. */
  add(tap: NewTap): Promise<DeviceTap>;
  put(tap: DeviceTap): Promise<void>;
  remove(number: number): Promise<void>;
}

/** Thirty-two hexadecimal digits from the browser's chance, which pages without a secure connection have too. */
export function freshId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  let time = Date.now();
  for (let at = 5; at >= 0; at--) {
    bytes[at] = time % 256;
    time = Math.floor(time / 256);
  }
  bytes[6] = (bytes[6]! & 0x0f) | 0x70;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

const answerOf = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('the browser’s store failed'));
  });

export async function openDeviceStore(): Promise<DeviceStore> {
  try {
    return await inBrowser();
  } catch {
    return inMemory();
  }
}

async function inBrowser(): Promise<DeviceStore> {
  const opening = indexedDB.open('retentate-bench', 1);
  opening.onupgradeneeded = () => {
    opening.result.createObjectStore('taps', { keyPath: 'number', autoIncrement: true });
    opening.result.createObjectStore('device');
  };
  const db = await answerOf(opening);
  /** One transaction; resolves when it is on the disk. */
  const whole = <T>(
    store: 'taps' | 'device',
    mode: 'readonly' | 'readwrite',
    work: (shelf: IDBObjectStore) => IDBRequest<T>,
  ): Promise<T> =>
    new Promise((resolve, reject) => {
      const change = db.transaction(store, mode, { durability: 'strict' });
      const request = work(change.objectStore(store));
      change.oncomplete = () => resolve(request.result);
      change.onabort = () => reject(change.error ?? new Error('the browser’s store failed'));
    });
  let device = (await whole('device', 'readonly', (shelf) => shelf.get('name'))) as string | undefined;
  if (device === undefined) {
    device = freshId();
    const name = device;
    await whole('device', 'readwrite', (shelf) => shelf.put(name, 'name'));
  }
  // Asks the browser not to clear this away when space runs short; it may say no.
  void navigator.storage?.persist?.().catch(() => false);
  return {
    device,
    lasting: true,
    all: () => whole('taps', 'readonly', (shelf) => shelf.getAll()) as Promise<DeviceTap[]>,
    add: async (tap) => {
      const number = (await whole('taps', 'readwrite', (shelf) => shelf.add(tap))) as number;
      return { ...tap, number };
    },
    put: async (tap) => void (await whole('taps', 'readwrite', (shelf) => shelf.put(tap))),
    remove: async (number) => void (await whole('taps', 'readwrite', (shelf) => shelf.delete(number))),
  };
}

function inMemory(): DeviceStore {
  const taps = new Map<number, DeviceTap>();
  let number = 0;
  return {
    device: freshId(),
    lasting: false,
    all: async () => [...taps.values()],
    add: async (tap) => {
      number += 1;
      const made = { ...tap, number };
      taps.set(number, made);
      return made;
    },
    put: async (tap) => void taps.set(tap.number, tap),
    remove: async (gone) => void taps.delete(gone),
  };
}
