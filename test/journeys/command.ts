/** The program as people run it, in a process of its own. */
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { FindingJson } from '../../src/api/index.ts';

const COMMAND = fileURLToPath(new URL('../../src/main/retentate.ts', import.meta.url));

export function retentate(words: readonly string[], cwd: string) {
  return new Promise<{ status: number | null; out: string; err: string }>((resolve) => {
    const child = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), COMMAND, ...words], {
      cwd,
    });
    let [out, err] = ['', ''];
    child.stdout.on('data', (text) => {
      out += text;
    });
    child.stderr.on('data', (text) => {
      err += text;
    });
    child.on('exit', (status) => resolve({ status, out, err }));
  });
}
export const findings = (out: string) =>
  out
    .trimEnd()
    .split('\n')
    .map((line) => FindingJson.parse(JSON.parse(line)));
