import { STATUS, type Status } from './misuse.ts';
import { withBar } from './progress-bar.ts';
import { tellRefusal } from './refusal.ts';
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
  const packed = await withBar(terminal, (told) => tools.pack(folder, study, out, told));
  if (!packed.ok) {
    return tellRefusal(packed.refusal, { json }, terminal);
  }
  const { study: name, tables, rows, originals, files, sealed } = packed.value;
  terminal.out(
    json
      ? `${JSON.stringify({ format: 'retentate/packed/1', file: out, study: name, tables, rows, originals, files, sealed })}\n`
      : `“${name}” is packed into ${out}: ${rows} records in ${tables} tables, ${originals} originals to the byte.\n${sealed.map((round) => `Round “${round}” is sealed: its key, its seed and its readings stayed here, and it cannot be opened from the archive. Open it first, or use “retentate backup”.\n`).join('')}`,
  );
  return STATUS.done;
}
