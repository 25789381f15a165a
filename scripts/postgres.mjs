/** PostgreSQL programs for the group's tests: those that are there, or Debian's. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { run, say } from './prepare.mjs';

const ROOT = '/usr/lib/postgresql';
const found = () =>
  Boolean(process.env.RETENTATE_POSTGRES_BIN) ||
  (existsSync(ROOT) && readdirSync(ROOT).some((version) => existsSync(join(ROOT, version, 'bin', 'initdb'))));

/** Whether they are there, installed by apt-get where this may be done; otherwise a sentence. */
export async function postgres() {
  if (found()) return true;
  if (process.platform === 'linux' && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    say('Installing PostgreSQL for the group’s tests …');
    const install = ['install', '-y', '-qq', '--no-install-recommends', 'postgresql'];
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    const quiet = { env, stdio: ['ignore', 'ignore', 'inherit'] };
    if ((await run('apt-get', install, quiet)) !== 0) {
      await run('apt-get', ['update', '-qq'], quiet);
      await run('apt-get', install, quiet);
    }
    if (found()) return true;
  }
  say('No PostgreSQL was found: install it to run the tests of the group’s server; they are skipped.');
  return false;
}
