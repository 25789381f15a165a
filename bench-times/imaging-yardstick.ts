/** General-purpose libraries' pipeline on the same photograph, through Python, where it is installed. */
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const run = promisify(execFile);
const SCRIPT = fileURLToPath(new URL('./yardstick_opencv.py', import.meta.url));
export type YardstickLibrary = 'opencv' | 'skimage';
const MODULE: Record<YardstickLibrary, string> = { opencv: 'cv2', skimage: 'skimage' };

export interface YardstickAnswer {
  readonly library: YardstickLibrary;
  readonly decode_s: number;
  readonly total_s: number;
  /** Processor time of all threads: steadier than the clock on a busy machine. */
  readonly processor_s: number;
  readonly um_per_px: number | null;
  readonly found: number;
  readonly peak_mb: number;
  readonly particles?: readonly {
    readonly outline_px: readonly (readonly [number, number])[];
    readonly area_px2: number;
    readonly feret_max_px: number;
  }[];
}

/** The Python that has the library, the system's own first; null where none has. */
export async function pythonWith(library: YardstickLibrary): Promise<string | null> {
  for (const python of ['/usr/bin/python3', 'python3']) {
    try {
      await run(python, ['-c', `import ${MODULE[library]}, numpy, scipy`]);
      return python;
    } catch {
      // Not there or without the library: the next may have it.
    }
  }
  return null;
}

/** Runs the pipeline on a photograph; the best of `repeat` runs is told. */
export async function askYardstick(
  python: string,
  photo: string,
  pitchMm: number,
  library: YardstickLibrary,
  options: { readonly repeat?: number; readonly outlines?: boolean } = {},
): Promise<YardstickAnswer> {
  const args = [
    SCRIPT,
    photo,
    String(pitchMm),
    '--library',
    library,
    '--repeat',
    String(options.repeat ?? 1),
  ];
  if (options.outlines) args.push('--json');
  const { stdout } = await run(python, args, { maxBuffer: 1 << 29 });
  return JSON.parse(stdout);
}
