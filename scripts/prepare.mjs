/** What both `npm start` and `npm test` need first: packages and a build. Plain Node, nothing installed yet. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('..', import.meta.url));

export const say = (text) => process.stderr.write(`${text}\n`);

/** Ends with one sentence; no stack, since it is for a person. */
export function stop(sentence) {
  say(sentence);
  process.exit(1);
}

export function checkNode() {
  const major = Number(process.versions.node.split('.')[0]);
  if (major < 20) stop(`Retentate needs Node 20 or newer; this is Node ${process.versions.node}.`);
}

/** Runs a program and gives its exit status (or 1 when a signal ended it). */
export function run(command, args, options = {}) {
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd: ROOT, stdio: 'inherit', ...options });
    child.on('error', () => resolve(1));
    child.on('exit', (code) => resolve(code ?? 1));
  });
}

const npm = (args) => run('npm', args, { shell: process.platform === 'win32' });
const node = (args) => run(process.execPath, args);

const hashOf = (texts) => {
  const hash = createHash('sha256');
  for (const text of texts) hash.update(text);
  return hash.digest('hex');
};
const readOr = (path, other) => (existsSync(path) ? readFileSync(path, 'utf8') : other);

const lockedPackages = (path) => JSON.parse(readOr(join(ROOT, path), '{}')).packages ?? {};

/** Whether what npm wrote down as installed is what the lock names; packages for other machines may be missing. */
function installed() {
  const there = lockedPackages('node_modules/.package-lock.json');
  return Object.entries(lockedPackages('package-lock.json')).every(
    ([path, wanted]) => path === '' || wanted.optional || there[path]?.version === wanted.version,
  );
}

/** Installs exactly what the lock names, when it is not what is there. */
export async function install() {
  if (installed()) return;
  say('Installing the packages that the lock names …');
  const quiet = ['--no-audit', '--no-fund', '--prefer-offline', '--loglevel', 'error'];
  if ((await npm(['ci', '--include=dev', ...quiet])) !== 0) {
    stop(
      'The packages could not be installed: check that the machine is online, then run the same command again.',
    );
  }
}

/** Everything that the build reads. */
const SOURCES = ['src', 'demo', 'vite.config.ts', 'tsconfig.base.json', 'package.json'];

function* filesUnder(path) {
  const whole = join(ROOT, path);
  if (!existsSync(whole)) return;
  const entries =
    path.includes('.') && !path.includes('/') ? null : readdirSync(whole, { withFileTypes: true });
  if (entries === null) {
    yield path;
    return;
  }
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const inside = `${path}/${entry.name}`;
    if (entry.isDirectory()) yield* filesUnder(inside);
    else if (!/\.test\.tsx?$/.test(entry.name)) yield inside;
  }
}

export function sourcesHash() {
  const texts = [];
  for (const source of SOURCES) {
    for (const file of filesUnder(source)) texts.push(file, readFileSync(join(ROOT, file)));
  }
  return hashOf(texts);
}

/** Builds commands and screens when their sources are not those of the last build. */
export async function build() {
  const sources = sourcesHash();
  const stamp = join(ROOT, 'dist', '.built-from');
  if (readOr(stamp, '') === sources) return;
  say('Building …');
  if ((await node(['node_modules/typescript/bin/tsc', '-b', 'src/main'])) !== 0) {
    stop('The program could not be built: see the lines above.');
  }
  if ((await node(['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'warn'])) !== 0) {
    stop('The screens could not be built: see the lines above.');
  }
  mkdirSync(join(ROOT, 'dist'), { recursive: true });
  writeFileSync(stamp, sources);
}
