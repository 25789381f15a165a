import {
  BRINES,
  brineOf,
  densestKgM3,
  densestPercent,
  MATERIALS,
  type Material,
  type PieceShape,
} from '../science/fluids/index.ts';
import { type BrineReport, brineReport } from '../study/index.ts';
import type { Micrometres, Millilitres, Millimetres } from '../units/index.ts';
import { wrapped } from './claim-words.ts';
import { STATUS, type Status } from './misuse.ts';
import { duration, figure, list, table } from './page-words.ts';
import { tellRefusal } from './refusal.ts';
import type { Terminal } from './tools.ts';

export interface BrineOptions {
  readonly density?: number;
  readonly share?: number;
  readonly volume: Millilitres;
  readonly size: Micrometres;
  readonly height: Millimetres;
  readonly shape: PieceShape;
  readonly material: readonly Material[];
  readonly json?: boolean;
}

/** `retentate brine`: a recipe by mass with density and viscosity, and which materials float; without a salt, what there is. */
export function brine(salt: string | undefined, options: BrineOptions, terminal: Terminal): Status {
  const refuse = (why: string, message: string): Status => tellRefusal({ why, message }, options, terminal);
  if (salt === undefined) {
    terminal.out(options.json ? `${JSON.stringify(choiceJson())}\n` : choiceWords());
    return STATUS.done;
  }
  const found = brineOf(salt);
  if (!found) {
    const known = [...BRINES.values()].map((one) => one.salt).join(', ');
    return refuse('no-such-salt', `“${salt}” is not in the tables of brines; known are ${known}.`);
  }
  if ((options.density === undefined) === (options.share === undefined))
    return refuse(
      'no-target',
      'Say either how dense it should be, --density 1.2g/mL, or its share by mass, --share 26%.',
    );
  if (!(options.volume > 0) || !(options.size > 0) || !(options.height > 0))
    return refuse('no-volume', 'Volume, size and height must be above 0, such as --volume 500mL.');
  const made = brineReport({
    table: found,
    massPercent: options.share ?? null,
    densityKgM3: options.density ?? null,
    volumeMl: options.volume,
    materials: options.material.length > 0 ? options.material : MATERIALS,
    sizeUm: options.size,
    heightMm: options.height,
    shape: options.shape,
  });
  if (!made.ok) return refuse(made.refusal.why, made.refusal.message);
  terminal.out(options.json ? `${JSON.stringify(made.value)}\n` : brineWords(made.value));
  return STATUS.done;
}

const choiceJson = () => ({
  format: 'retentate/brines/1',
  brines: [...BRINES.values()].map((one) => ({
    salt: one.salt,
    formula: one.formula,
    densest_kg_m3: densestKgM3(one),
    densest_percent: densestPercent(one),
    gentle: one.gentle,
    source: one.source,
  })),
});

function choiceWords(): string {
  const rows = [...BRINES.values()].map(
    (one) =>
      `  ${one.salt.padEnd(21)}${one.formula.padEnd(14)}${(densestKgM3(one) / 1000).toFixed(3)} g/mL at ${densestPercent(one)} %${one.gentle ? '   fit for a kitchen or school' : ''}`,
  );
  return `Brines, and the densest that is tabulated at 20 °C:\n\n${rows.join('\n')}\n\nA recipe: retentate brine NaCl --density 1.18g/mL --volume 500mL\n`;
}

function brineWords(made: BrineReport): string {
  const by = (verdict: string) =>
    made.materials
      .filter((one) => one.verdict === verdict)
      .map((one) => `${one.code}${one.clears_in_s === null ? '' : ` (${duration(one.clears_in_s)})`}`)
      .join(', ') || 'none';
  const rows: [string, string][] = [
    [made.salt, `${figure(made.salt_g)} g, dry`],
    ['water', `${figure(made.water_g)} g`],
    ...made.hydrates.map((one): [string, string] => [
      `or ${one.name}`,
      `${figure(one.salt_g)} g with ${figure(one.water_g)} g of water`,
    ]),
    [
      'density at 20 °C',
      `${(made.density_kg_m3 / 1000).toFixed(3)} ± ${(made.density_tolerance_kg_m3 / 1000).toFixed(3)} g/mL`,
    ],
    [
      'viscosity',
      made.viscosity_mpa_s === null ? 'not known' : `${figure(made.viscosity_mpa_s)} mPa·s (water 1.0)`,
    ],
  ];
  const warned = made.near_saturation
    ? ['This is close to saturation: it may not dissolve whole, or crystals may fall out when it cools.']
    : [];
  return [
    `${wrapped(`${figure(made.volume_ml)} mL of ${made.salt} brine, ${figure(made.mass_percent)} % by mass:`, '', '')}\n`,
    ...(made.instead === null ? [] : [`${wrapped(made.instead, '', '')}\n`]),
    table(rows),
    `\nWhat happens to pieces in it (time for ${figure(made.size_um)} µm through ${figure(made.height_mm)} mm)\n`,
    `${wrapped(`floats      ${by('floats')}`, '  ', '              ')}\n`,
    `${wrapped(`sinks       ${by('sinks')}`, '  ', '              ')}\n`,
    `${wrapped(`undecided   ${by('undecided')}`, '  ', '              ')}\n`,
    list('Take care', [...warned, ...made.cautions]),
    list('Source', [made.source]),
  ].join('');
}
