import { STATUS, type Status } from './misuse.ts';
import { progressBar } from './progress-bar.ts';
import type { ArchiveTools, Terminal } from './tools.ts';

export interface PackOptions {
  readonly study: string;
  readonly out: string;
  readonly json?: boolean;
}

/** `retentate pack`: a study out to one archive in open formats. */
export async function pack(
  folder: string,
  { study, out, json }: PackOptions,
  terminal: Terminal,
  tools: ArchiveTools,
): Promise<Status> {
  const bar = progressBar(1, terminal);
  let told = 0;
  const packed = await tools
    .pack(folder, study, out, (done, of) => {
      bar.tick(done / of - told);
      told = done / of;
    })
    .finally(() => bar.stop());
  if (!packed.ok) {
    const { why, message } = packed.refusal;
    if (json) terminal.out(`${JSON.stringify({ refusal: { why, message } })}\n`);
    terminal.err(`${message}\n`);
    return STATUS.refused;
  }
  const { study: name, tables, rows, originals, files } = packed.value;
  terminal.out(
    json
      ? `${JSON.stringify({ format: 'retentate/packed/1', file: out, study: name, tables, rows, originals, files })}\n`
      : `“${name}” is packed into ${out}: ${rows} records in ${tables} tables, ${originals} originals to the byte.\n`,
  );
  return STATUS.done;
}
