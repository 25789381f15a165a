/** A Chromium for the browser tests: the one named, one that is there, or Debian's. */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { run, say } from './prepare.mjs';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome', 'msedge'];
const PLACES = [
  '/usr/bin/chromium',
  '/snap/bin/chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

function found() {
  const named = process.env.CHROME_PATH;
  if (named) return existsSync(named) ? named : null;
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  const onPath = folders.flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return [...PLACES, ...onPath].find((place) => existsSync(place)) ?? null;
}

const isRoot = () => process.getuid?.() === 0;
const hasApt = () => {
  try {
    execFileSync('apt-get', ['--version'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
};

/** Path of a browser, installed by apt-get where this may be done; null with a sentence where there is none. */
export async function browser() {
  const there = found();
  if (there) return there;
  if (process.env.CHROME_PATH) {
    say(`CHROME_PATH names ${process.env.CHROME_PATH}, which is not there: correct it, or unset it.`);
    return null;
  }
  if (process.platform === 'linux' && isRoot() && hasApt()) {
    say('Installing Chromium for the browser tests …');
    const install = ['install', '-y', '-qq', '--no-install-recommends', 'chromium'];
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    const quiet = { env, stdio: ['ignore', 'ignore', 'inherit'] };
    if ((await run('apt-get', install, quiet)) !== 0) {
      await run('apt-get', ['update', '-qq'], quiet);
      await run('apt-get', install, quiet);
    }
    const now = found();
    if (now) return now;
  }
  say(
    'No Chromium was found: install Chromium or Chrome, or set CHROME_PATH to one, to run the browser tests.',
  );
  return null;
}
