import type { Refusal } from '../units/index.ts';
import { STATUS, type Status } from './misuse.ts';
import type { Terminal } from './tools.ts';

/** Tells a refusal in the form that was asked for. */
export function tellRefusal(
  { why, message }: Pick<Refusal, 'why' | 'message'>,
  { json }: { readonly json?: boolean },
  terminal: Terminal,
): Status {
  if (json) terminal.out(`${JSON.stringify({ refusal: { why, message } })}\n`);
  terminal.err(`${message}\n`);
  return STATUS.refused;
}
