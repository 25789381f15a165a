import {
  brineAt,
  brineOf,
  densestPercent,
  liquidOf,
  MATERIALS,
  type Material,
  type PieceShape,
  water,
} from '../science/fluids/index.ts';
import { type SettleReport, type SettleWish, settleReport } from '../study/index.ts';
import { celsius, done, type Micrometres, type Millimetres, type Outcome, refused } from '../units/index.ts';
import { wrapped } from './claim-words.ts';
import { readPercent } from './fluid-options.ts';
import { STATUS, type Status } from './misuse.ts';
import { duration, figure, list } from './page-words.ts';
import { tellRefusal } from './refusal.ts';
import type { Terminal } from './tools.ts';

export interface SettleOptions {
  readonly height: Millimetres;
  readonly after: number;
  readonly temperature: number;
  readonly brine?: string;
  readonly density?: number;
  readonly viscosity?: number;
  readonly shape: PieceShape;
  readonly size: readonly Micrometres[];
  readonly material: readonly Material[];
  readonly json?: boolean;
}

const USUAL_SIZES = [5, 10, 20, 50, 100, 200, 500, 1000];

/** `retentate settle`: what is in the sediment, what floats, what is still in between after a time. */
export function settle(options: SettleOptions, terminal: Terminal): Status {
  const liquid = liquidFrom(options);
  const wrong = liquid.ok ? impossible(options) : liquid.refusal;
  if (!liquid.ok || wrong !== null) {
    return tellRefusal(wrong!, options, terminal);
  }
  const report = settleReport({
    liquid: liquid.value,
    heightMm: options.height,
    afterS: options.after,
    shape: options.shape,
    sizesUm: options.size.length > 0 ? options.size : USUAL_SIZES,
    materials: options.material.length > 0 ? options.material : MATERIALS,
  });
  terminal.out(options.json ? `${JSON.stringify(report)}\n` : settleWords(report));
  return STATUS.done;
}

function impossible(options: SettleOptions): { why: string; message: string } | null {
  if (!(options.height > 0))
    return {
      why: 'no-height',
      message: 'A height of 0 has nothing to settle through; measure the liquid from surface to bottom.',
    };
  if (options.size.some((size) => !(size > 0)))
    return { why: 'no-size', message: 'A piece of size 0 does not fall; give sizes above 0, such as 50um.' };
  return null;
}

function liquidFrom(options: SettleOptions): Outcome<SettleWish['liquid']> {
  const no = (why: string, message: string) => refused({ why, message });
  if (options.brine !== undefined) {
    const [salt, share] = options.brine.split(':') as [string, string | undefined];
    const table = brineOf(salt);
    if (!table)
      return no(
        'no-such-salt',
        `“${salt}” is not in the tables of brines; try NaCl, CaCl2, sugar, NaI or ZnCl2.`,
      );
    const percent = readPercent(share ?? '');
    if (!percent.ok)
      return no('no-share', `brine “${options.brine}”: write salt and share by mass, such as NaCl:26%.`);
    if (percent.value > densestPercent(table))
      return no(
        'out-of-reach',
        `brine “${options.brine}”: ${table.salt} is tabulated to ${densestPercent(table)} %.`,
      );
    const liquid = liquidOf(brineAt(table, percent.value));
    if (liquid === null)
      return no(
        'no-viscosity',
        `brine “${options.brine}”: its viscosity is not at hand, so no time can be told.`,
      );
    return done({ ...liquid, name: `${table.salt} ${figure(percent.value)} % in water, 20 °C` });
  }
  if (options.density !== undefined || options.viscosity !== undefined) {
    if (!(options.density && options.viscosity))
      return no(
        'no-viscosity',
        'A liquid of your own needs both, above 0: --density 1.1g/mL --viscosity 2mPas.',
      );
    return done({ densityKgM3: options.density, viscosityMPaS: options.viscosity, name: 'liquid as given' });
  }
  return done({ ...water(celsius(options.temperature)), name: `water, ${figure(options.temperature)} °C` });
}

const SIGN: Readonly<Record<string, string>> = {
  sediment: '▼',
  'partly-down': '▽',
  between: '·',
  'partly-up': '△',
  floats: '▲',
  undecided: '?',
};

/** The map as a page: a sign for every material and size, then times for the sizes asked for. */
export function settleWords(report: SettleReport): string {
  const sizes = report.materials[0]!.sizes.map((cell) => cell.size_um);
  const head = `  ${''.padEnd(10)}${''.padEnd(12)}${sizes.map((size) => figure(size).padStart(6)).join('')} µm`;
  const rows = report.materials.map(({ code, density_g_ml: [low, high], sizes: cells }) => {
    const density = low === high ? figure(low) : `${figure(low)}–${figure(high)}`;
    return `  ${code.padEnd(10)}${density.padEnd(12)}${cells.map((cell) => SIGN[cell.verdict]!.padStart(6)).join('')}`;
  });
  const times =
    report.materials.length <= 3 || sizes.length === 1
      ? list('Until the last has arrived', timesOf(report))
      : '';
  return [
    `${wrapped(`After ${duration(report.after_s)} in ${figure(report.height_mm)} mm of ${report.liquid.name} (${figure(report.liquid.density_kg_m3 / 1000)} g/mL, ${figure(report.liquid.viscosity_mpa_s)} mPa·s), pieces spread evenly at the start, shape ${report.shape.kind}:`, '', '')}\n\n`,
    `${head}\n${rows.join('\n')}\n\n`,
    '  ▼ in the sediment   ▽ partly there   · still in between   △ partly up   ▲ floats\n',
    '  ? undecided: the printed densities of the material lie on both sides of the liquid’s\n',
    times,
    list('Take care', report.cautions),
    list('Sources', report.sources),
  ].join('');
}

function timesOf(report: SettleReport): string[] {
  return report.materials.flatMap(({ code, sizes }) =>
    sizes.map((cell) => {
      const [a, b] = cell.velocity_mm_s;
      const speed =
        a === b
          ? figure(Math.abs(a))
          : `${figure(Math.min(Math.abs(a), Math.abs(b)))} to ${figure(Math.max(Math.abs(a), Math.abs(b)))}`;
      const way = a > 0 ? 'sinks' : 'rises';
      return cell.clears_in_s === null
        ? `${code}, ${figure(cell.size_um)} µm: undecided, it may sink or rise`
        : `${code}, ${figure(cell.size_um)} µm: ${way} at ${speed} mm/s, ${duration(cell.clears_in_s)} for the whole height${cell.holds ? '' : ' (a guess: large pieces flutter)'}`;
    }),
  );
}
