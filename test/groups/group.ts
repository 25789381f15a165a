/** A group for the tests: a PostgreSQL server, the program's own server and workers as processes, and people with cookies. */
import { type ChildProcess, spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { Role } from '../../src/study/index.ts';
import { type Line, lineTo } from './line.ts';
import { type Person, personAt, withCookie } from './person.ts';
import { type PostgresServer, startPostgres } from './postgres-server.ts';
import { ended, PROGRAM, ROOT } from './program.ts';

export type { Person } from './person.ts';

export interface Worker {
  /** Lines that it has written. */
  readonly lines: string[];
  readonly pid: number;
  kill(): Promise<void>;
  stop(): Promise<void>;
}

export interface Group {
  readonly postgres: PostgresServer;
  /** Between the server and its database; workers have their own. */
  readonly line: Line;
  readonly address: string;
  readonly database: string;
  readonly folder: string;
  readonly firstCode: string;
  /** The server's process. */
  serverPid(): number;
  person(name: string, code: string): Promise<Person>;
  nobody: Person;
  invite(owner: Person, role: Role): Promise<string>;
  worker(env?: Readonly<Record<string, string>>, ...args: string[]): Promise<Worker>;
  /** Kills the server's process and starts it again on the same port. */
  restart(env?: Readonly<Record<string, string>>): Promise<void>;
  close(): Promise<void>;
}

function start(args: readonly string[], env: Readonly<Record<string, string>> = {}) {
  const child = spawn(process.execPath, [...PROGRAM, ...args], {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, ...env },
  });
  const lines: string[] = [];
  let said = '';
  let rest = '';
  child.stdout!.on('data', (part: Buffer) => {
    rest += part.toString();
    const whole = rest.split('\n');
    rest = whole.pop()!;
    lines.push(...whole);
  });
  child.stderr!.on('data', (part: Buffer) => {
    said += part.toString();
  });
  const first = async (): Promise<string> => {
    for (let tries = 0; tries < 1200; tries++) {
      if (lines[0] !== undefined) return lines[0];
      if (child.exitCode !== null) break;
      await new Promise((resume) => setTimeout(resume, 50));
    }
    throw new Error(`${args[0]} did not start: ${said.slice(-800)}`);
  };
  return { child, lines, first };
}

/**
 * `direct`: the server speaks to its database without the line between, for what is timed. `disk`: a folder that the
 * database’s tables lie in.
 */
export async function startGroup({
  direct = false,
  disk,
}: {
  readonly direct?: boolean;
  readonly disk?: string;
} = {}): Promise<Group> {
  const postgres = await startPostgres();
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-group-'));
  const database = postgres.database('laboratory', disk);
  const line = await lineTo(postgres.port);
  const originals = ['--originals', path.join(folder, 'originals')];
  const place = ['--database', database, ...originals];
  const placeByLine = ['--database', database.replace(`:${postgres.port}/`, `:${line.port}/`), ...originals];
  const children: ChildProcess[] = [];
  const serve = async (port: string, env: Readonly<Record<string, string>> = {}) => {
    const args = [
      'serve',
      ...(direct ? place : placeByLine),
      '--cache',
      path.join(folder, 'server'),
      '--port',
      port,
      '--json',
    ];
    const begun = start(args, env);
    children.push(begun.child);
    const line = await begun.first();
    const { address, first_code } = JSON.parse(line) as { address?: string; first_code: string | null };
    if (!address) throw new Error(`serve was refused: ${line}`);
    return { child: begun.child, address, firstCode: first_code };
  };
  let server = await serve('0');
  const { address } = server;

  return {
    postgres,
    line,
    address,
    database,
    folder,
    firstCode: server.firstCode!,
    serverPid: () => server.child.pid!,
    nobody: withCookie(address, 'nobody', ''),
    person: (name, code) => personAt(address, name, code),
    async invite(owner, role) {
      const { json } = await owner.ask('POST', '/api/invitations', { role, note: '' });
      return json.code;
    },
    async worker(env = {}, ...args) {
      const cache = fs.mkdtempSync(path.join(folder, 'worker-'));
      const begun = start(['work', ...place, '--cache', cache, '--json', ...args], env);
      children.push(begun.child);
      await begun.first();
      const end = async (signal: NodeJS.Signals) => {
        begun.child.kill(signal);
        await ended(begun.child);
      };
      return {
        lines: begun.lines,
        pid: begun.child.pid!,
        kill: () => end('SIGKILL'),
        stop: () => end('SIGINT'),
      };
    },
    async restart(env = {}) {
      server.child.kill('SIGKILL');
      await ended(server.child);
      server = await serve(new URL(address).port, env);
    },
    async close() {
      for (const child of children) child.kill('SIGKILL');
      await Promise.all(children.map(ended));
      await line.close();
      await postgres.stop();
      fs.rmSync(folder, { recursive: true, force: true });
    },
  };
}
