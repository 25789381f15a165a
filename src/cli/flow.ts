import type { VolumeMark } from '../science/fluids/index.ts';
import { flowReport } from '../study/index.ts';
import type { Micrometres, Millilitres, Outcome } from '../units/index.ts';
import { flowWords } from './flow-words.ts';
import { marksFromFile } from './marks-file.ts';
import { STATUS, type Status } from './misuse.ts';
import { tellRefusal } from './refusal.ts';
import type { Terminal } from './tools.ts';

export interface FlowOptions {
  readonly volume?: Millilitres;
  readonly area?: number;
  readonly onto?: number;
  readonly pore?: Micrometres;
  readonly smallest?: Micrometres;
  readonly diluted?: number;
  readonly pieces?: number;
  readonly piece?: Micrometres;
  readonly pressure?: number;
  readonly solids?: number;
  readonly json?: boolean;
}

/** `retentate flow`: which blocking law, when it stops, how many filters. Refused where the marks are no filtration. */
export async function flow(file: string, options: FlowOptions, terminal: Terminal): Promise<Status> {
  const refuse = (why: string, message: string): Status => tellRefusal({ why, message }, options, terminal);
  if (options.onto !== undefined && options.area === undefined)
    return refuse(
      'no-area',
      'To carry a test disc over to another filter, give its own wetted area too: --area.',
    );
  const marks: Outcome<readonly VolumeMark[]> = await marksFromFile(file);
  if (!marks.ok) return refuse(marks.refusal.why, marks.refusal.message);
  const made = flowReport({
    marks: marks.value.map((mark) => ({ time_s: mark.timeS, volume_ml: mark.volumeMl })),
    total_ml: options.volume ?? null,
    area_cm2: options.area ?? null,
    onto_cm2: options.onto ?? null,
    pore_um: options.pore ?? null,
    smallest_um: options.smallest ?? null,
    diluted: options.diluted ?? 1,
    pieces: options.pieces ?? null,
    piece_um: options.piece ?? null,
    pressure_kpa: options.pressure ?? null,
    solids_g_l: options.solids ?? null,
  });
  if (!made.ok) return refuse(made.refusal.why, made.refusal.message);
  terminal.out(options.json ? `${JSON.stringify(made.value)}\n` : flowWords(made.value));
  return STATUS.done;
}
