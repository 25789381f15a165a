/**
 * One process at a time in a laboratory folder: two would lose rows without an error.
 * On one machine a listening socket is the lock: the system gives a name to one process only and frees it the moment
 * that process ends, however it ends. For machines that share a disk there is also a file with a heartbeat.
 */
import { createHash, randomUUID } from 'node:crypto';
import fs from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { done, type Outcome, refused } from '../units/index.ts';

const FILE = 'laboratory.lock';
const BEAT_MS = 5_000;
/** A holder on another machine that has not written for this long is taken for gone. */
const GONE_MS = 30_000;

export interface Holder {
  readonly pid: number;
  readonly host: string;
  readonly since: string;
  /** Where it can be reached, once it says so. */
  readonly address: string | null;
}

export interface LaboratoryLock {
  /** Tells a second process where to find this one. */
  announce(address: string): void;
  release(): Promise<void>;
}

function socketName(folder: string): string {
  const name = `retentate-${createHash('sha256').update(folder).digest('hex').slice(0, 32)}`;
  if (process.platform === 'linux') return `\0${name}`;
  if (process.platform === 'win32') return `\\\\.\\pipe\\${name}`;
  return path.join(os.tmpdir(), `${name}.sock`);
}

const listen = (server: net.Server, name: string): Promise<boolean> =>
  new Promise((resolve, reject) => {
    server.once('error', (failure: NodeJS.ErrnoException) => {
      if (failure.code === 'EADDRINUSE') resolve(false);
      else reject(failure);
    });
    server.listen(name, () => resolve(true));
  });

/** Asks whoever holds the socket who they are; null when nobody answers. */
const ask = (name: string): Promise<Holder | null> =>
  new Promise((resolve) => {
    let said = '';
    const call = net.connect(name);
    call.setEncoding('utf8').setTimeout(1_000, () => call.destroy());
    call.on('data', (part) => {
      said += part;
    });
    call.on('error', () => resolve(null));
    call.on('close', () => {
      try {
        resolve(JSON.parse(said) as Holder);
      } catch {
        resolve(null);
      }
    });
  });

const inUse = (folder: string, holder: Holder | null): Outcome<never> => {
  const who = holder
    ? `process ${holder.pid} on ${holder.host}, since ${holder.since}${holder.address ? `, at ${holder.address}` : ''}`
    : 'another process';
  return refused({
    why: 'in-use',
    message: `The laboratory ${folder} is open in ${who}; close that one first, or use it.`,
  });
};

function readHolder(file: string): { holder: Holder; age: number } | null {
  try {
    const holder = JSON.parse(fs.readFileSync(file, 'utf8')) as Holder;
    // Both times come from the same disk's clock, so that two machines' clocks need not agree.
    const probe = `${file}.${randomUUID()}`;
    fs.writeFileSync(probe, '');
    const now = fs.statSync(probe).mtimeMs;
    fs.unlinkSync(probe);
    return { holder, age: now - fs.statSync(file).mtimeMs };
  } catch {
    return null;
  }
}

/** Takes the folder for this process, or says who has it. `now` is written for people to read. */
export async function takeLock(givenFolder: string, now: string): Promise<Outcome<LaboratoryLock>> {
  const folder = fs.realpathSync(givenFolder);
  const name = socketName(folder);
  const file = path.join(folder, FILE);
  let me: Holder = { pid: process.pid, host: os.hostname(), since: now, address: null };

  const answering = () => net.createServer((call) => call.on('error', () => {}).end(JSON.stringify(me)));
  let server = answering();
  if (!(await listen(server, name))) {
    const holder = await ask(name);
    const leftOver = holder === null && name.endsWith('.sock') && fs.existsSync(name);
    if (!leftOver) return inUse(folder, holder);
    // A socket in a folder outlives its process on systems without abstract names.
    fs.unlinkSync(name);
    server = answering();
    if (!(await listen(server, name))) return inUse(folder, await ask(name));
  }
  server.unref();

  const before = readHolder(file);
  if (before && before.holder.host !== me.host && before.age < GONE_MS) {
    server.close();
    return inUse(folder, before.holder);
  }
  const write = () => fs.writeFileSync(file, `${JSON.stringify(me)}\n`);
  write();
  const beat = setInterval(() => {
    try {
      write();
    } catch {
      // A full or read-only disk must not end the work; on this machine the socket still holds.
    }
  }, BEAT_MS);
  beat.unref();

  return done({
    announce: (address) => {
      me = { ...me, address };
      write();
    },
    release: async () => {
      clearInterval(beat);
      fs.rmSync(file, { force: true });
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
  });
}

/** Who has the folder open on this machine, if anybody: a door may then talk to that process instead. */
export const holderOf = (folder: string): Promise<Holder | null> => ask(socketName(fs.realpathSync(folder)));
