/**
 * Recomputes the counting statistics with R and scipy, as Debian packages them, on cases drawn from a seed, and says how
 * far apart the answers are. A system that is not installed is skipped with a sentence. Exit status 1 when one disagrees.
 *
 * Run: npm run test:references -- [seed] [cases of each kind]
 */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { casesOf, gapOf } from './reference-cases.ts';

const seed = Number(process.argv[2] ?? 20260101);
const each = Number(process.argv[3] ?? 40);
if (!Number.isSafeInteger(seed) || !(Number.isSafeInteger(each) && each > 0)) {
  console.error('Give a whole seed and a whole number of cases above 0.');
  process.exit(2);
}

const systems = [
  {
    name: 'scipy',
    // the second is Debian’s own interpreter, where another comes first on the path
    command: ['python3', '/usr/bin/python3'],
    script: 'references.py',
    probe: ['-c', 'import scipy'],
  },
  { name: 'R', command: ['Rscript'], script: 'references.R', probe: ['--version'] },
];

/** The first command of the list that starts and answers its probe; null when none does. */
const found = (commands: readonly string[], probe: readonly string[]): string | null =>
  commands.find((command) => spawnSync(command, probe, { encoding: 'utf8' }).status === 0) ?? null;

const cases = casesOf(seed, each);
const questions = `${cases.map(({ question, args }) => [question.name, ...args].join(',')).join('\n')}\n`;
let disagreements = 0;
let compared = 0;

console.log(`Seed ${seed}, ${each} cases of each kind.`);
for (const system of systems) {
  const command = found(system.command, system.probe);
  if (command === null) {
    console.log(`${system.name} is not installed here, so nothing is compared with it.`);
    continue;
  }
  const script = fileURLToPath(new URL(system.script, import.meta.url));
  const run = spawnSync(command, [script], { input: questions, encoding: 'utf8', maxBuffer: 2 ** 26 });
  if (run.status !== 0) {
    console.error(`${system.name} stopped before it answered: ${run.stderr.trim().split('\n').at(-1)}`);
    disagreements++;
    continue;
  }
  const answers = run.stdout.trim().split('\n');
  const worst = new Map<string, { gap: number; within: number; at: string }>();
  cases.forEach(({ question, args, ours }, i) => {
    const answer = answers[i] ?? '';
    if (answer === 'unknown') return;
    const gap = gapOf(question, ours, answer.split(',').map(Number));
    const so = worst.get(question.name);
    compared++;
    if (!(gap <= question.within)) disagreements++;
    if (!so || !(gap <= so.gap)) {
      const at = `(${args.join(', ')}) ours ${ours.join(', ')}; ${system.name} ${answer}`;
      worst.set(question.name, { gap, within: question.within, at });
    }
  });
  console.log(`\n${system.name}`);
  for (const [name, { gap, within, at }] of worst) {
    const ok = gap <= within;
    console.log(
      `  ${ok ? 'agrees   ' : 'DISAGREES'} ${name.padEnd(22)} largest gap ${gap.toExponential(1)} (${within.toExponential(0)} allowed)`,
    );
    if (!ok) console.log(`            ${at}`);
  }
}
console.log(`\n${compared} answers compared, ${disagreements} disagree.`);
process.exitCode = disagreements > 0 ? 1 : 0;
