import { STATUS, type Status } from './misuse.ts';
import { progressBar } from './progress-bar.ts';
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
  const bar = progressBar(1, terminal);
  let told = 0;
  const unpacked = await tools
    .unpack(file, folder, options.as, (done, of) => {
      bar.tick(done / of - told);
      told = done / of;
    })
    .finally(() => bar.stop());
  if (!unpacked.ok) {
    const { why, message } = unpacked.refusal;
    if (options.json) terminal.out(`${JSON.stringify({ refusal: { why, message } })}\n`);
    terminal.err(`${message}\n`);
    return STATUS.refused;
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
