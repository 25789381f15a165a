/** Writes docs/hostile-inputs.md from the list that the journey drives through the door: `npx tsx test/journeys/hostile-table.ts`. */
import { writeFileSync } from 'node:fs';
import { type Hostile, hostileInputs } from './hostile-inputs.ts';

const there = {
  study: 'STUDY',
  filter: 'FILTER',
  photo: 'PHOTO',
  round: 'ROUND',
  scorer: 'SCORER',
  port: 7319,
};
const inputs = hostileInputs(there, () => new Uint8Array());

const must = ({ expect }: Hostile): string =>
  'refused' in expect
    ? `refused (${expect.refused.join(', ')})`
    : 'kept' in expect
      ? 'kept letter for letter'
      : 'sealed' in expect
        ? 'nothing of the key comes out'
        : 'no file comes out';
const safe = (text: string) => text.replaceAll('|', '\\|').replaceAll('<', '&lt;').replaceAll('\n', ' ');

const groups = [...new Set(inputs.map((one) => one.group))];
const lines = [
  '# Hostile inputs',
  '',
  'What the journey `test/journeys/hostile.test.ts` sends through the real HTTP door of a laboratory, letter for letter, and what must',
  'come back. Besides, for each: the machine does not fail, nothing of the machine comes out, guards are in every answer, and the',
  'laboratory is whole afterwards. Written from the same list by `npx tsx test/journeys/hostile-table.ts`.',
  '',
  `${inputs.length} inputs in ${groups.length} groups.`,
];
for (const group of groups) {
  const own = inputs.filter((one) => one.group === group);
  lines.push(
    '',
    `## ${group[0]!.toUpperCase()}${group.slice(1)} (${own.length})`,
    '',
    '| sent | must be |',
    '|---|---|',
  );
  lines.push(...own.map((one) => `| ${safe(one.what)} | ${must(one)} |`));
}
writeFileSync('docs/hostile-inputs.md', `${lines.join('\n')}\n`);
process.stdout.write(`${inputs.length} inputs written to docs/hostile-inputs.md\n`);
