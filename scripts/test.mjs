/**
 * `npm test`: sets itself up (packages, browser, build), then runs every check and every test. The last line is plain:
 * `N passed, N failed`. Types and lint count as one each. `npm test -- src/units` runs the tests of one folder.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { browser } from './browser.mjs';
import { postgres } from './postgres.mjs';
import { build, checkNode, install, run, say } from './prepare.mjs';

checkNode();
await install();
const chromium = await browser();
await postgres();
await build();

let passed = 0;
let failed = 0;
const count = (good) => {
  if (good) passed++;
  else failed++;
};
const node = (args, env = process.env) => run(process.execPath, args, { env });

say('Types …');
count((await node(['node_modules/typescript/bin/tsc', '-b'])) === 0);
say('Lint and format …');
count((await node(['node_modules/@biomejs/biome/bin/biome', 'check', '.'])) === 0);
// Without a browser its tests are no pass: the missing browser counts as one failure.
if (!chromium) count(false);

say('Tests …');
const folder = mkdtempSync(join(tmpdir(), 'retentate-test-'));
const results = join(folder, 'results.json');
const env = { ...process.env, RETENTATE_BUILT: 'yes', ...(chromium ? { CHROME_PATH: chromium } : {}) };
const status = await node(
  [
    'node_modules/vitest/vitest.mjs',
    'run',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${results}`,
    ...process.argv.slice(2),
  ],
  env,
);
let skipped = 0;
try {
  const told = JSON.parse(readFileSync(results, 'utf8'));
  passed += told.numPassedTests;
  failed += told.numFailedTests;
  skipped = told.numPendingTests + (told.numTodoTests ?? 0);
  // A file that fails before its first test has none to count, but is a failure.
  const silent = told.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((one) => one.status === 'failed'),
  );
  failed += silent.length;
  if (status !== 0 && told.numFailedTests === 0 && silent.length === 0) failed++;
} catch {
  say('The tests ended without results.');
  failed++;
}
rmSync(folder, { recursive: true, force: true });

if (skipped > 0) say(`${skipped} skipped; each says why above.`);
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exit(failed === 0 ? 0 : 1);
