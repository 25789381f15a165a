import type { CompletenessJson } from '../api/index.ts';
import type { FindWish } from '../science/imaging/finding.ts';
import { STATUS, type Status } from './misuse.ts';
import type { NamedPhoto } from './photo-files.ts';
import { type ProgressBar, progressBar } from './progress-bar.ts';
import { tellRefusal } from './refusal.ts';
import type { PhotoSearch, Terminal } from './tools.ts';

/** `retentate find CONTROL… --completeness`: the chance of being found, by size, shape and contrast, and the size floors. */
export async function completeness(
  photos: readonly NamedPhoto[],
  wish: FindWish,
  options: { readonly json?: boolean },
  terminal: Terminal,
  search: PhotoSearch,
): Promise<Status> {
  let bar: ProgressBar | null = null;
  let before = 0;
  try {
    const told = (done: number, of: number): void => {
      bar ??= progressBar(of, terminal);
      bar.tick(done - before);
      before = done;
    };
    const outcome = await search.completeness(photos, wish, told, terminal.signal);
    (bar as ProgressBar | null)?.stop();
    if (!outcome.ok) return tellRefusal(outcome.refusal, options, terminal);
    terminal.out(options.json ? `${JSON.stringify(outcome.value)}\n` : completenessWords(outcome.value));
    return STATUS.done;
  } finally {
    await search.close();
  }
}

type FloorJson = CompletenessJson['floors'][number]['half'];

const size = (um: number): string => `${um >= 100 ? um.toFixed(0) : Number(um.toPrecision(2))}`;

/** A floor that these sizes do not show points to a note below the table. */
function floorWords(floor: FloorJson, notes: string[]): string {
  if (floor.size_um === null) {
    const because = floor.because ?? 'The drawn sizes do not show it.';
    if (!notes.includes(because)) notes.push(because);
    return `note ${notes.indexOf(because) + 1}`;
  }
  const { lower_um: lower, upper_um: upper } = floor;
  const range =
    lower !== null && upper !== null
      ? ` (${size(lower)} to ${size(upper)})`
      : lower !== null
        ? ` (${size(lower)} or more)`
        : upper !== null
          ? ` (${size(upper)} or less)`
          : '';
  return `${size(floor.size_um)} µm${range}`;
}

function completenessWords(given: CompletenessJson): string {
  const notes: string[] = [];
  const lines = [
    `${given.drawn} known pieces were drawn into ${given.photographs} control photograph${given.photographs === 1 ? '' : 's'} and searched for.`,
    '',
    `${'shape'.padEnd(10)}${'contrast'.padEnd(11)}${'half are found from'.padEnd(30)}nine in ten are found from`,
    ...given.floors.map(
      ({ shape, contrast, half, nine_tenths }) =>
        `${shape.padEnd(10)}${contrast.padEnd(11)}${floorWords(half, notes).padEnd(30)}${floorWords(nine_tenths, notes)}`,
    ),
    '',
    `Sizes are maximum Feret diameters; ranges at ${Math.round(100 * given.confidence)} % confidence.`,
  ];
  return `${[...lines, ...notes.map((note, at) => `Note ${at + 1}: ${note}`)].join('\n')}\n`;
}
