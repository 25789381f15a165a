import { type Command, InvalidArgumentError, Option } from 'commander';
import { EQUIPMENT, type Equipment, type PolymerGroup } from '../science/digestion/index.ts';
import { type Material, USUAL_SHAPES } from '../science/fluids/index.ts';
import {
  type Micrometres,
  millilitres,
  mm,
  type Outcome,
  readGrams,
  readMicrometres,
  readMillilitres,
  readMillimetres,
  um,
} from '../units/index.ts';
import { readCoupon, readEquipment, readPolymer, readSetting } from './digest.ts';
import {
  readCm2,
  readDensity,
  readGramsPerLitre,
  readKPa,
  readMaterial,
  readPercent,
  readPieces,
  readSeconds,
  readShape,
  readTimes,
  readViscosity,
  readWaterCelsius,
} from './fluid-options.ts';
import { option, type Status } from './misuse.ts';
import type { Terminal } from './tools.ts';

/** One value of an option that may be given several times. */
const more =
  <T>(read: (text: string) => { ok: true; value: T } | { ok: false; refusal: { message: string } }) =>
  (text: string, before: readonly T[] = []): readonly T[] => {
    const one = read(text);
    if (!one.ok) throw new InvalidArgumentError(one.refusal.message);
    return [...before, one.value];
  };

/** An option with its usual value, shown as a person would write it. */
const usual = <T>(
  flags: string,
  says: string,
  read: (text: string) => Outcome<T>,
  value: T,
  written: string,
) => new Option(flags, says).argParser(option(read)).default(value, written);

/** The verbs for liquids: flow, settle, brine. */
export function liquidVerbs(
  program: Command,
  terminal: Terminal,
  ends: (work: Promise<Status>) => Promise<void>,
): void {
  program
    .command('flow')
    .description('filtration: which blocking law, when the filter is full, how many filters')
    .argument(
      '<marks.csv>',
      'timed volumes: columns of time and volume with their units, such as time_s,volume_ml',
    )
    .option(
      '--volume <volume>',
      'all of the liquid that is to be filtered, such as 200mL',
      option(readMillilitres),
    )
    .option('--area <area>', 'wetted area of the filter of these marks, such as 9.6cm2', option(readCm2))
    .option(
      '--onto <area>',
      'the marks come from a test disc: wetted area of the filter to be used',
      option(readCm2),
    )
    .option('--pore <length>', 'pore of the filter, such as 20um', option(readMicrometres))
    .option('--smallest <length>', 'smallest piece that the question asks for', option(readMicrometres))
    .option('--diluted <times>', 'how many times the liquid was diluted', option(readTimes))
    .option('--pieces <number>', 'pieces expected in all of the liquid', option(readPieces))
    .option('--piece <length>', 'how wide they are; the smallest where not said', option(readMicrometres))
    .option('--pressure <pressure>', 'of the pump, such as 60kPa', option(readKPa))
    .option('--solids <share>', 'dry solids of the liquid, such as 2g/L', option(readGramsPerLitre))
    .option('--json', 'one JSON object')
    .action(async (file: string, options) => {
      const { flow } = await import('./flow.ts');
      await ends(flow(file, options, terminal));
    });

  program
    .command('settle')
    .description('what is in the sediment, what floats, what is still in between after a time')
    .addOption(usual('--height <length>', 'height of the liquid', readMillimetres, mm(100), '100mm'))
    .addOption(
      usual('--after <time>', 'time of standing still, such as 10min or 2h', readSeconds, 3600, '1h'),
    )
    .addOption(usual('--temperature <temperature>', 'of the water, such as 20C', readWaterCelsius, 20, '20C'))
    .option('--brine <salt:share>', 'in a brine of 20 °C, such as NaCl:26%')
    .option('--density <density>', 'of a liquid of your own, such as 1.1g/mL', option(readDensity))
    .option('--viscosity <viscosity>', 'of a liquid of your own, such as 2mPas', option(readViscosity))
    .addOption(
      usual(
        '--shape <shape>',
        'sphere, fragment, fibre:15um, film:25um',
        readShape,
        USUAL_SHAPES.fragment,
        'fragment',
      ),
    )
    .option(
      '--size <length>',
      'size of a piece (longest Feret); once for each',
      more<Micrometres>(readMicrometres),
      [],
    )
    .option('--material <code>', 'material, such as PET; once for each', more<Material>(readMaterial), [])
    .option('--json', 'one JSON object')
    .action(async (options) => {
      const { settle } = await import('./settle.ts');
      await ends(Promise.resolve(settle(options, terminal)));
    });

  program
    .command('brine')
    .description('recipes of brines by mass, and which materials float on them')
    .argument('[salt]', 'NaCl, CaCl2, MgCl2, sugar, K2CO3, NaI, CsCl or ZnCl2; without it, what there is')
    .option('--density <density>', 'wished density at 20 °C, such as 1.2g/mL', option(readDensity))
    .option('--share <share>', 'share of the dry salt by mass, such as 26%', option(readPercent))
    .addOption(usual('--volume <volume>', 'how much brine', readMillilitres, millilitres(1000), '1L'))
    .addOption(
      usual('--size <length>', 'smallest piece that should arrive', readMicrometres, um(100), '100um'),
    )
    .addOption(usual('--height <length>', 'height of the brine', readMillimetres, mm(100), '100mm'))
    .addOption(
      usual(
        '--shape <shape>',
        'sphere, fragment, fibre:15um, film:25um',
        readShape,
        USUAL_SHAPES.fragment,
        'fragment',
      ),
    )
    .option('--material <code>', 'material, such as PET; once for each', more<Material>(readMaterial), [])
    .option('--json', 'one JSON object')
    .action(async (salt: string | undefined, options) => {
      const { brine } = await import('./brine.ts');
      await ends(Promise.resolve(brine(salt, options, terminal)));
    });

  program
    .command('digest')
    .description(
      'options for digesting a matrix: amounts, ceiling, harm to each polymer, what it adds to the blank',
    )
    .argument('[matrix]', 'clean-water, hot-extract, saliva, fatty, starchy, plant, mineral, soft-polymer')
    .option(
      '--polymer <code>',
      'polymer in question, such as PE; once for each',
      more<PolymerGroup>(readPolymer),
      [],
    )
    .option('--setting <place>', 'kitchen, school or laboratory', option(readSetting), 'laboratory')
    .option(
      '--have <equipment>',
      `what is at hand: ${EQUIPMENT.join(', ')}; once for each`,
      more<Equipment>(readEquipment),
      [],
    )
    .option('--mass <mass>', 'wet mass of the matrix in one run, such as 2g', option(readGrams))
    .option(
      '--coupon <before:after>',
      'judge a coupon: pieces, such as 10:10, then mass in mg and area in mm² where measured, such as 10:10,25.1:24.9,38:37.5',
      option(readCoupon),
    )
    .option('--balance <mass>', 'readability of the balance of the coupon, such as 0.1mg', option(readGrams))
    .option('--changed', 'edges or colour of the coupon changed')
    .option('--json', 'one JSON object')
    .action(async (matrix: string | undefined, options) => {
      const { digest } = await import('./digest.ts');
      await ends(Promise.resolve(digest(matrix, options, terminal)));
    });
}
