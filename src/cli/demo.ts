import { claimWords } from './claim-words.ts';
import { STATUS, type Status } from './misuse.ts';
import { type ProgressBar, progressBar } from './progress-bar.ts';
import { tellRefusal } from './refusal.ts';
import type { DemoPhase, LaboratoryTools, Terminal } from './tools.ts';

const SAYS: Readonly<Record<DemoPhase, string>> = {
  drawing: 'Drawing the invented photographs',
  searching: 'Searching them for particles and marking what was found',
};

/** `retentate demo`: the example laboratory, all invented, from photographs to claim. */
export async function demo(
  folder: string,
  options: { readonly json?: boolean },
  terminal: Terminal,
  laboratory: LaboratoryTools,
): Promise<Status> {
  let phase: DemoPhase | null = null;
  let bar: ProgressBar | null = null;
  const made = await laboratory.demo(folder, (now, done, of) => {
    if (now !== phase) {
      bar?.stop();
      phase = now;
      terminal.err(`${SAYS[now]} (${of}) …\n`);
      bar = progressBar(of, terminal);
    }
    bar?.tick(1);
    if (!terminal.watched && done % 5 === 0) terminal.err(`  ${done} of ${of}\n`);
  });
  (bar as ProgressBar | null)?.stop();
  if (!made.ok) return tellRefusal(made.refusal, options, terminal);
  const { claim, study, specimen } = made.value;
  if (options.json) {
    terminal.out(
      `${JSON.stringify({ folder: made.value.folder, study, specimen, invented: true, claim })}\n`,
    );
  } else {
    terminal.out(`\nThe example laboratory is in ${made.value.folder}. All of it is invented.\n`);
    terminal.out(`\n${study}: ${specimen}\n\n${claimWords(claim)}\n`);
  }
  return STATUS.done;
}
