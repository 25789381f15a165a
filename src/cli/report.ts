import { wrapped } from './claim-words.ts';
import { STATUS, type Status } from './misuse.ts';
import { tellRefusal } from './refusal.ts';
import type { LaboratoryTools, Terminal } from './tools.ts';

export interface ReportOptions {
  readonly study?: string;
  readonly out: string;
  readonly pictures: number;
  readonly replace?: boolean;
  readonly json?: boolean;
}

/** `retentate report`: the report of a study as HTML, PDF, Markdown, or a folder of tables. */
export async function report(
  folder: string,
  options: ReportOptions,
  terminal: Terminal,
  laboratory: LaboratoryTools,
): Promise<Status> {
  const made = await laboratory.report(folder, {
    out: options.out,
    pictures: options.pictures,
    replace: options.replace ?? false,
    ...(options.study === undefined ? {} : { study: options.study }),
  });
  if (!made.ok) return tellRefusal(made.refusal, options, terminal);
  const { out, study, files, state, sentence } = made.value;
  if (options.json) {
    terminal.out(`${JSON.stringify({ format: 'retentate/report/1', study, out, files, state, sentence })}\n`);
  } else {
    terminal.out(`${study}\n${wrapped(sentence, '  ', '  ')}\n\nWritten: ${files.join('\n         ')}\n`);
  }
  return STATUS.done;
}
