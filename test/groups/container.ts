/**
 * `npm run test:groups -- --container`: builds deploy/Dockerfile and runs server and worker from the image as compose.yaml
 * says, without an engine's daemon: buildah builds, podman runs by runc. No registry of images is asked: under the base image's name
 * goes one made here of Debian's packages and this machine's own Node and npm.
 */
import { type ChildProcess, execFile, execFileSync, spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import { createRequire } from 'node:module';
import os from 'node:os';
import path from 'node:path';
import { plainFilter } from '../journeys/plain-filter.ts';
import { bring, isOver, makeStudy, searches } from './group-study.ts';
import { personAt } from './person.ts';
import { startPostgres } from './postgres-server.ts';
import { ended, ROOT } from './program.ts';

const TOOLS = ['buildah', 'podman', 'runc', 'mmdebstrap'];
/** Clearing up is not waited for longer. */
const BRIEFLY = { timeout: 20_000, killSignal: 'SIGKILL' } as const;
const print = (line: string): void => void process.stdout.write(`${line}\n`);
const there = (program: string): boolean => spawnSync(program, ['--version']).error === undefined;

/** True when all went well, or when the tools for it are not on this machine, which is said. */
export async function tryContainer(): Promise<boolean> {
  checkCompose();
  const missing = TOOLS.filter((tool) => !there(tool));
  if (missing.length > 0 || process.getuid?.() !== 0) {
    const why = missing.length > 0 ? `${missing.join(', ')}: not on this machine` : 'it needs root';
    print(`image: not run (${why})`);
    return true;
  }
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-container-'));
  const store = [
    ...['--root', path.join(home, 'store'), '--runroot', path.join(home, 'run')],
    ...['--storage-driver', 'overlay'],
  ];
  const call = (program: string, ...args: string[]): string =>
    execFileSync(program, [...store, ...args], {
      cwd: ROOT,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'pipe'],
      maxBuffer: 2 ** 28,
    }).trim();
  try {
    base(home, call);
    const begun = performance.now();
    call(
      'buildah',
      ...['build', '--isolation', 'chroot', '--pull-never', '--volume', `${home}/npm:/npm`],
      ...[
        '--ignorefile',
        'deploy/Dockerfile.dockerignore',
        '-f',
        'deploy/Dockerfile',
        '-t',
        'retentate',
        '.',
      ],
    );
    print(`image: built from deploy/Dockerfile in ${((performance.now() - begun) / 1000).toFixed(0)} s`);
    await runImage(home, store);
    return true;
  } catch (failure) {
    const { stderr } = failure as { stderr?: string };
    print(
      `image: failed: ${failure instanceof Error ? failure.message : failure}\n${stderr?.slice(-3000) ?? ''}`,
    );
    return false;
  } finally {
    spawnSync('podman', [...store, 'rm', '--all', '--force', '--volumes'], BRIEFLY);
    spawnSync('buildah', [...store, 'rm', '--all'], BRIEFLY);
    fs.rmSync(home, { recursive: true, force: true });
  }
}

/** What a client of compose says of the file; it needs no engine for that. */
function checkCompose(): void {
  const client = [['docker', 'compose'], ['docker-compose'], ['podman-compose']].find(
    ([program, ...verb]) => spawnSync(program!, [...verb, 'version']).status === 0,
  );
  if (!client) {
    print('compose.yaml: not checked (no client of compose on this machine)');
    return;
  }
  const [program, ...verb] = client;
  const words = {
    DATABASE_PASSWORD: 'x',
    SITE: 'https://laboratory.example.org',
    S3_KEY_ID: 'x',
    S3_SECRET: 'x',
  };
  const asked = spawnSync(program!, [...verb, '-f', 'deploy/compose.yaml', 'config'], {
    cwd: ROOT,
    encoding: 'utf8',
    env: { ...process.env, ...words },
  });
  if (asked.status !== 0) throw new Error(`compose.yaml: ${client.join(' ')} refuses it: ${asked.stderr}`);
  print(`compose.yaml: sound to ${client.join(' ')}`);
}

type Call = (program: string, ...args: string[]) => string;

/** An image under the name that the recipe begins from. */
function base(home: string, call: Call): void {
  const [, name] = /^FROM (\S+) AS build$/m.exec(
    fs.readFileSync(path.join(ROOT, 'deploy/Dockerfile'), 'utf8'),
  )!;
  // The machine’s own release, for which its Node was built.
  const [, suite] = /^VERSION_CODENAME=(\S+)$/m.exec(fs.readFileSync('/etc/os-release', 'utf8'))!;
  const packages = path.join(home, 'base.tar');
  execFileSync(
    'mmdebstrap',
    ['--variant=minbase', '--include=ca-certificates,libstdc++6', suite!, packages],
    {
      stdio: ['ignore', 'ignore', 'pipe'],
    },
  );
  const container = call('buildah', 'from', 'scratch');
  call('buildah', 'add', container, packages, '/');
  const npm = path.dirname(
    path.dirname(fs.realpathSync(execFileSync('which', ['npm'], { encoding: 'utf8' }).trim())),
  );
  call('buildah', 'copy', container, process.execPath, '/usr/bin/node');
  call('buildah', 'copy', container, npm, '/usr/lib/node_modules/npm');
  const cache = execFileSync('npm', ['config', 'get', 'cache'], { encoding: 'utf8' }).trim();
  // What npm ci of this clone has fetched: the container builds without the network.
  fs.cpSync(path.join(cache, '_cacache'), path.join(home, 'npm', '_cacache'), { recursive: true });
  const words = ['ln -s ../lib/node_modules/npm/bin/npm-cli.js /usr/bin/npm', 'useradd -m -u 1000 node'];
  call('buildah', 'run', '--isolation', 'chroot', container, '--', 'sh', '-c', words.join(' && '));
  call('buildah', 'config', '--env', 'npm_config_offline=true', '--env', 'npm_config_cache=/npm', container);
  call('buildah', 'commit', container, `localhost/${name}`);
  print(`base: ${name} stood in for by Debian’s packages with Node ${process.version} of this machine`);
}

/** A server of the bucket’s protocol, on this machine. */
const S3rver = createRequire(import.meta.url)('s3rver') as new (
  options: object,
) => { run(): Promise<{ port: number }>; close(): Promise<void> };

/** Server and worker from the image: root read-only, no rights, the account that the recipe names; a photo in and searched. */
async function runImage(home: string, store: readonly string[]): Promise<void> {
  const told = fs.readFileSync(path.join(ROOT, 'deploy/compose.yaml'), 'utf8');
  const health = /"(fetch\(.+\))"/.exec(told)![1]!;
  const bucket = new S3rver({
    ...{ port: 0, address: '127.0.0.1', silent: true, directory: path.join(home, 'bucket') },
    configureBuckets: [{ name: 'retentate' }],
  });
  const { port } = await bucket.run();
  const postgres = await startPostgres();
  const running: ChildProcess[] = [];
  const env = {
    RETENTATE_DATABASE: postgres.database('container'),
    RETENTATE_ORIGINALS: 's3://retentate',
    RETENTATE_CACHE: '/var/cache/retentate',
    TMPDIR: '/var/cache/retentate',
    S3_ENDPOINT: `http://127.0.0.1:${port}`,
    S3_KEY_ID: 'S3RVER',
    S3_SECRET: 'S3RVER',
  };
  const runtime = ['--runtime', 'runc', '--cgroup-manager', 'cgroupfs'];
  /** Beside this program's own work: the bucket is in it, and what runs in the container asks it. */
  const podman = (...args: string[]) =>
    new Promise<{ well: boolean; said: string }>((resolve) =>
      execFile('podman', [...runtime, ...store, ...args], (failure, out, err) =>
        resolve({ well: failure === null, said: `${out}${err}`.trim() }),
      ),
    );
  /** Its first line, once it is there. */
  const start = (name: string, ...verb: string[]): Promise<string> => {
    const child = spawn('podman', [
      ...runtime,
      ...store,
      ...['run', '--name', name, '--network', 'host', '--read-only'],
      // Limits that a machine without the right to raise them grants.
      ...['--ulimit', 'nofile=1024:1024', '--ulimit', 'nproc=1000:1000'],
      ...['--cap-drop', 'all', '--security-opt', 'no-new-privileges', '--volume', '/var/cache/retentate'],
      ...Object.entries(env).flatMap(([key, value]) => ['--env', `${key}=${value}`]),
      ...['retentate', ...verb],
    ]);
    running.push(child);
    let said = '';
    return new Promise((resolve, reject) => {
      child.stderr.on('data', (part) => {
        said += String(part);
      });
      child.stdout.once('data', (part) => resolve(String(part)));
      child.once('exit', (code) => reject(new Error(`${name} ended with ${code}: ${said.slice(-2000)}`)));
    });
  };
  try {
    const site = 'http://127.0.0.1:7319';
    const line = await start('server', 'serve', '--host', '0.0.0.0', '--site', site, '--json');
    const { first_code } = JSON.parse(line) as { first_code: string };
    const who = (await podman('exec', 'server', 'id', '-un')).said;
    if (who !== 'node') throw new Error(`the server runs as “${who}”`);
    if ((await podman('exec', 'server', 'touch', '/app/mine')).well)
      throw new Error('the root can be written');
    const asked = await podman('exec', 'server', 'node', '-e', health);
    if (!asked.well) throw new Error(`the health check fails: ${asked.said}`);
    print(`server: runs as ${who}, root read-only, no rights; its health check of compose.yaml answers`);
    const owner = await personAt(site, 'Olga Owner', first_code);
    const { filters } = await makeStudy(owner, 'In a container', 1);
    const photo = await bring(owner, filters[0]!, new Uint8Array(await plainFilter(8, 1)), 'contained.jpg');
    await start('worker', 'work', '--json');
    for (let tries = 0; tries < 600; tries++) {
      if ((await searches(owner)).filter(isOver).length === 1) break;
      await new Promise((resume) => setTimeout(resume, 500));
    }
    const { json } = await owner.ask('GET', `/api/photos/${photo}/particles`);
    if (json.particles?.length !== 8)
      throw new Error(`8 pieces were drawn: ${JSON.stringify(json).slice(0, 300)}`);
    print(
      'worker: a photograph was taken into the bucket, searched from the image, and its 8 pieces were found',
    );
    const words = ['check', env.RETENTATE_DATABASE, '--originals', env.RETENTATE_ORIGINALS];
    const checked = await podman('exec', 'server', 'node', 'dist/src/main/retentate.js', ...words);
    if (!checked.well) throw new Error(`check: ${checked.said}`);
    print('check: clean');
  } finally {
    // As whoever sits before it would: the signal goes on to the program, which ends by itself.
    for (const child of running) child.kill('SIGINT');
    await Promise.all(running.map(ended));
    await postgres.stop();
    await bucket.close();
  }
}
