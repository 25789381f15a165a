/** A PostgreSQL server of its own for the tests, from the machine's packages, on a free port, thrown away afterwards. */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import fs from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';

/** Folder with the server's programs; RETENTATE_POSTGRES_BIN may name it. Null where there is none. */
export function postgresPrograms(): string | null {
  const named = process.env.RETENTATE_POSTGRES_BIN;
  if (named) return fs.existsSync(path.join(named, 'initdb')) ? named : null;
  const root = '/usr/lib/postgresql';
  if (!fs.existsSync(root)) return null;
  const versions = fs.readdirSync(root).sort((a, b) => Number(b) - Number(a));
  const folders = versions.map((version) => path.join(root, version, 'bin'));
  return folders.find((folder) => fs.existsSync(path.join(folder, 'initdb'))) ?? null;
}

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = net.createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as net.AddressInfo;
      server.close(() => resolve(port));
    });
  });

const parentOf = (pid: string): number => {
  try {
    return Number(/^PPid:\s+(\d+)/m.exec(fs.readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]);
  } catch {
    return 0;
  }
};
const childrenOf = (pid: number): number[] =>
  fs
    .readdirSync('/proc')
    .filter((one) => /^\d+$/.test(one) && parentOf(one) === pid)
    .map(Number);
const tryKill = (pid: number): void => {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // It was gone already.
  }
};
/** A process that has ended and whose parent has not asked yet counts as gone. */
const isThere = (pid: number): boolean => {
  try {
    return !/^State:\s+[ZX]/m.test(fs.readFileSync(`/proc/${pid}/status`, 'utf8'));
  } catch {
    return false;
  }
};

export interface PostgresServer {
  readonly port: number;
  /** Its processes as they are now. */
  pids(): readonly number[];
  /** Address of a new, empty database; `on`: a folder that its tables are to lie in, such as a disk of its own. */
  database(name: string, on?: string): string;
  /** Kills all its processes with signal 9 and starts it again on the same data. */
  killAndRestart(): Promise<void>;
  stop(): Promise<void>;
}

/** Starts one; the server refuses to run as root, so there it runs as the packages' own account. */
export async function startPostgres(): Promise<PostgresServer> {
  const bin = postgresPrograms();
  if (!bin) throw new Error('no PostgreSQL programs on this machine');
  const asRoot = process.getuid?.() === 0;
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-postgres-'));
  fs.chmodSync(home, 0o755);
  const data = path.join(home, 'data');
  fs.mkdirSync(data);
  const account = asRoot ? ['runuser', '-u', 'postgres', '--'] : [];
  if (asRoot) execFileSync('chown', ['-R', 'postgres', home]);
  const call = (program: string, ...args: string[]) => {
    const [command, ...rest] = [...account, path.join(bin, program), ...args];
    execFileSync(command!, rest, { stdio: 'ignore', cwd: home });
  };
  call('initdb', '-D', data, '-A', 'trust', '-U', 'retentate', '--no-sync', '-E', 'UTF8', '--no-locale');
  const port = await freePort();
  const begin = async () => {
    const [command, ...rest] = [
      ...account,
      path.join(bin, 'postgres'),
      ...['-D', data, '-p', String(port), '-k', home],
      ...['-c', 'listen_addresses=127.0.0.1', '-c', 'max_connections=120', '-c', 'log_min_messages=fatal'],
    ];
    let running: ChildProcess | null = null;
    for (let tries = 0; tries < 600; tries++) {
      // One that finds leavings of a killed one's children still at work ends at once; they end soon.
      if (running === null || running.exitCode !== null) {
        running = spawn(command!, rest, { stdio: 'ignore', cwd: home });
      }
      try {
        call('pg_isready', '-h', '127.0.0.1', '-p', String(port), '-q');
        return;
      } catch {
        await new Promise((resume) => setTimeout(resume, 50));
      }
    }
    throw new Error('PostgreSQL did not start');
  };
  await begin();
  const pids = (): number[] => {
    const first = Number(fs.readFileSync(path.join(data, 'postmaster.pid'), 'utf8').split('\n')[0]);
    return [first, ...childrenOf(first)];
  };
  return {
    port,
    pids,
    database: (name, on) => {
      const there = ['-h', '127.0.0.1', '-p', String(port), '-U', 'retentate'];
      if (on) {
        if (asRoot) execFileSync('chown', ['postgres', on]);
        const words = `create tablespace ${name}_disk location '${on}'`;
        call('psql', ...there, '-d', 'postgres', '-c', words);
      }
      call('createdb', ...there, ...(on ? ['-D', `${name}_disk`] : []), name);
      return `postgres://retentate@127.0.0.1:${port}/${name}`;
    },
    killAndRestart: async () => {
      const all = pids();
      for (const pid of all) tryKill(pid);
      while (all.some(isThere)) await new Promise((resume) => setTimeout(resume, 20));
      await begin();
    },
    stop: async () => {
      try {
        call('pg_ctl', '-D', data, '-m', 'immediate', '-w', 'stop');
      } catch {
        // It runs no more: whoever ended it has told why.
      }
      fs.rmSync(home, { recursive: true, force: true });
    },
  };
}
