/** Known faults of the libraries that travel with the program. A registry that does not answer is said, and is no pass. */
import { spawnSync } from 'node:child_process';

const { stdout } = spawnSync('npm', ['audit', '--omit=dev', '--json'], {
  encoding: 'utf8',
  shell: process.platform === 'win32',
  timeout: 60_000,
});
let told = null;
try {
  told = JSON.parse(stdout);
} catch {
  // Below: no answer.
}
const found = told?.metadata?.vulnerabilities;
if (!found) {
  process.stdout.write('Libraries: not checked, the registry gives no answer about known faults.\n');
  process.exit(0);
}
const grave = (found.high ?? 0) + (found.critical ?? 0);
process.stdout.write(
  `Libraries: ${found.critical ?? 0} critical, ${found.high ?? 0} high, ${found.moderate ?? 0} moderate, ${found.low ?? 0} low known faults.\n`,
);
for (const [name, { severity, via }] of Object.entries(told.vulnerabilities ?? {})) {
  if (severity !== 'high' && severity !== 'critical') continue;
  const titles = via.map((one) => (typeof one === 'string' ? one : one.title));
  process.stdout.write(`  ${name}: ${severity}: ${titles.join('; ')}\n`);
}
process.exit(grave > 0 ? 1 : 0);
