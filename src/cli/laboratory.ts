import { wrapped } from './claim-words.ts';
import { interrupted } from './interrupted.ts';
import { STATUS, type Status } from './misuse.ts';
import { progressBar } from './progress-bar.ts';
import { tellRefusal } from './refusal.ts';
import type { LaboratoryTools, Terminal } from './tools.ts';

interface Asked {
  readonly json?: boolean;
}

/** `retentate open`: serves until it is interrupted. */
export async function open(
  folder: string,
  options: Asked & { readonly port?: number },
  terminal: Terminal,
  laboratory: LaboratoryTools,
): Promise<Status> {
  const opened = await laboratory.open(folder, options.port);
  if (!opened.ok) return tellRefusal(opened.refusal, options, terminal);
  const { address, name, made, studies } = opened.value;
  if (options.json) {
    terminal.out(`${JSON.stringify({ address, folder: opened.value.folder, name, made, studies })}\n`);
  } else {
    const words = made
      ? `Made the laboratory “${name}” in ${opened.value.folder}.`
      : `Opened the laboratory “${name}”.`;
    const stands = studies.map(({ study, sentence }) => `\n${study}\n${wrapped(sentence, '  ', '  ')}\n`);
    terminal.out(`${words}\n${stands.join('')}\n${address}\n`);
    terminal.err('Press Ctrl-C to close it.\n');
  }
  await interrupted(terminal);
  await opened.value.close();
  return STATUS.done;
}

/** `retentate check`: done when nothing is amiss, refused with each thing that is. */
export async function check(
  folder: string,
  options: Asked & { readonly originals?: string },
  terminal: Terminal,
  laboratory: LaboratoryTools,
): Promise<Status> {
  let bar: ReturnType<typeof progressBar> | null = null;
  const checked = await laboratory.check(folder, options.originals ?? null, (_done, of) => {
    bar ??= progressBar(of, terminal);
    bar.tick(1);
  });
  (bar as ReturnType<typeof progressBar> | null)?.stop();
  if (!checked.ok) return tellRefusal(checked.refusal, options, terminal);
  const { photos, findings, particles, marks, unnamed, problems } = checked.value;
  if (options.json) {
    terminal.out(`${JSON.stringify({ format: 'retentate/check/1', ...checked.value })}\n`);
  } else {
    terminal.out(
      `${photos} photos, ${findings} findings, ${particles} particles, ${marks} marks were gone through.\n`,
    );
    if (unnamed.length > 0) {
      terminal.out(
        `${unnamed.length} originals belong to no photo: left by an import that was stopped; harmless.\n`,
      );
    }
    terminal.out(problems.length === 0 ? 'Everything is sound.\n' : `${problems.length} things are amiss:\n`);
    for (const { message } of problems) terminal.out(`  · ${message}\n`);
  }
  return problems.length === 0 ? STATUS.done : STATUS.refused;
}
