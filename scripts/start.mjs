/**
 * `npm start`: from a clean clone to the example laboratory in a browser. Installs what is missing, builds what is new,
 * makes the example on the first start, prints its claim and its address, and serves it until Ctrl-C.
 * `npm start -- FOLDER` opens another laboratory, made when it is missing.
 */
import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { build, checkNode, install, ROOT, run, stop } from './prepare.mjs';

const EXAMPLE = join(ROOT, 'example-laboratory');
const COMMAND = join(ROOT, 'dist', 'src', 'main', 'retentate.js');

checkNode();
await install();
await build();

/** The first word is the laboratory's folder, unless it is an option; the rest goes to `open` as it is. */
const [first, ...others] = process.argv.slice(2);
const wished = first?.startsWith('-') ? undefined : first;
const options = wished === undefined ? process.argv.slice(2) : others;
const folder = wished ? resolve(process.env.INIT_CWD ?? '.', wished) : EXAMPLE;
if (!wished && !existsSync(join(EXAMPLE, 'laboratory.json'))) {
  if ((await run(process.execPath, [COMMAND, 'demo', EXAMPLE])) !== 0) {
    stop('The example laboratory could not be made: see the lines above.');
  }
}

const open = spawn(process.execPath, [COMMAND, 'open', folder, ...options], { cwd: ROOT, stdio: 'inherit' });
// Ctrl-C reaches the child too; this process waits until the laboratory is closed.
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => open.kill(signal));
open.on('exit', (code) => process.exit(code ?? 0));
