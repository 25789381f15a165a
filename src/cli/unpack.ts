import { STATUS, type Status } from './misuse.ts';
import { withBar } from './progress-bar.ts';
import { tellRefusal } from './refusal.ts';
import type { ArchiveTools, Terminal } from './tools.ts';

export interface UnpackOptions {
  readonly as?: string;
  readonly json?: boolean;
}

/** `retentate unpack`: a packed study into a laboratory, made when there is none. */
export async function unpack(
  file: string,
  folder: string,
  options: UnpackOptions,
  terminal: Terminal,
  tools: ArchiveTools,
): Promise<Status> {
  const unpacked = await withBar(terminal, (told) => tools.unpack(file, folder, options.as, told));
  if (!unpacked.ok) {
    return tellRefusal(unpacked.refusal, options, terminal);
  }
  const { study, id, rows, originals, sameClaim, packedBy } = unpacked.value;
  const same = sameClaim
    ? 'the claims are those of the packing, digit for digit'
    : `the claims differ from those of the packing: version ${packedBy} packed it, and this one judges otherwise`;
  terminal.out(
    options.json
      ? `${JSON.stringify({ format: 'retentate/unpacked/1', folder, study, id, rows, originals, same_claim: sameClaim, packed_by: packedBy })}\n`
      : `“${study}” is in ${folder}: ${rows} records, ${originals} originals; ${same}.\n`,
  );
  return STATUS.done;
}
