import { Command, CommanderError, Option } from 'commander';
import { troubleOf } from '../actions/index.ts';
import { readMicrometres } from '../units/index.ts';
import { groupVerbs } from './group.ts';
import { liquidVerbs } from './liquid-verbs.ts';
import { readFalseAccepts, readLaser } from './match-option.ts';
import { option, STATUS, type Status } from './misuse.ts';
import { planVerb } from './plan.ts';
import { readPictures, readPort } from './port-option.ts';
import { readFalseFinds, readPitch, readScale } from './scale-option.ts';
import type { CommandTools, Terminal } from './tools.ts';
import { wholeVerbs } from './whole.ts';

/** An option that may be given several times. */
const several = (text: string, before: readonly string[] = []): readonly string[] => [...before, text];

/**
 * Runs one command line (without node and script) and gives its exit status: 0 done, 1 refused with reasons, 2 misuse.
 * A machine failure is caught here, once, and told in one line.
 */
export async function runCommand(
  words: readonly string[],
  tools: CommandTools,
  terminal: Terminal,
): Promise<Status> {
  let status: Status = STATUS.done;
  const program = new Command('retentate')
    .description('What the filter keeps, and what may be claimed from it.')
    .version(tools.version)
    .exitOverride()
    .showHelpAfterError('Add --help to see how it is written.')
    .configureOutput({ writeOut: terminal.out, writeErr: terminal.err });
  const ends = (work: Promise<Status>): Promise<void> =>
    work.then((s) => {
      status = s;
    });

  program
    .command('find')
    .description('particles on photographs, measured')
    .argument(
      '<photo...>',
      'photographs (JPEG, PNG, TIFF) or folders of them; write ./-a.jpg for a name that begins with a dash',
    )
    .addOption(
      new Option('--pitch <length>', 'distance of the printed grid lines, such as 3.1mm')
        .argParser(option(readPitch))
        .conflicts('scale'),
    )
    .addOption(
      new Option('--scale <length/px>', 'scale of the photographs, such as 4.2um/px').argParser(
        option(readScale),
      ),
    )
    .option(
      '--smallest <length>',
      'smallest piece to report (maximum Feret diameter)',
      option(readMicrometres),
    )
    .option(
      '--false-finds <number>',
      'false finds on a blank photograph that are acceptable, on average',
      option(readFalseFinds),
      0.5,
    )
    .option('--out <folder>', 'write outlined pictures and particles there')
    .option('--json', 'one JSON object a photograph, one a line')
    .option(
      '--completeness',
      'the photographs are controls: draw known pieces into them and tell how small a piece is found',
    )
    .addOption(
      new Option(
        '--blanks',
        'the photographs are of bare membrane: tell which setting keeps --false-finds on them',
      ).conflicts(['completeness', 'out']),
    )
    .action(async (photos: string[], options) => {
      const { find } = await import('./find.ts');
      await ends(find(photos, options, terminal, () => tools.photoSearch()));
    });

  program
    .command('claim')
    .description('a claim from counts alone')
    .option(
      '--portion <mass:count>',
      'a portion of the product and its count, such as 1.02g:14, or 1.02g/3pieces:14; once for each',
      several,
      [],
    )
    .option('--blank <count>', 'particles on one matching control; once for each', several, [])
    .option('--passed <share>', 'share of the liquid that passed the filter', '1')
    .option('--examined <share>', 'share of the filter that was examined', '1')
    .option(
      '--recovery <found/added>',
      'known pieces found again, such as 45/50; once for each spiked run',
      several,
      [],
    )
    .option(
      '--sizes <name=lengths>',
      'sizes of the particles of one portion or blank, such as "portion 1=120um,340um"; once for each',
      several,
      [],
    )
    .option('--smallest <length>', 'smallest piece that these optics show', option(readMicrometres))
    .option(
      '--completeness <file>',
      'what find --completeness --json wrote: the share found of each size band',
    )
    .option(
      '--drill <kept/shown,kept/shown>',
      'true and natural pieces kept by the scorer, such as 18/20,2/30',
    )
    .option('--confidence <share>', 'confidence of intervals and decision', '0.95')
    .option('--json', 'one JSON object')
    .action(async (options) => {
      const { claim } = await import('./claim.ts');
      await ends(claim(options, terminal));
    });

  liquidVerbs(program, terminal, ends);

  planVerb(program, ends, terminal);

  program
    .command('match')
    .description('what a spectrum is like among references, or that it cannot be told')
    .argument('<spectrum...>', 'spectra (JCAMP-DX, SPC or columns of numbers), or folders of them')
    .requiredOption('--references <folder>', 'folder with spectra of known materials')
    .addOption(
      new Option('--technique <name>', 'where the files do not say it').choices(['infrared', 'raman']),
    )
    .option('--laser <nm>', 'laser of Raman spectra whose axis is in nm, such as 532nm', option(readLaser))
    .option(
      '--false-accepts <share>',
      'share of materials outside the references that may be answered all the same',
      option(readFalseAccepts),
      0.02,
    )
    .option('--filter <file>', 'spectrum of the bare filter, taken off before comparing')
    .option('--picture <file.svg>', 'draw the spectrum over its best references')
    .option('--json', 'one JSON object a spectrum, one a line')
    .action(async (spectra: string[], options) => {
      const { match } = await import('./match.ts');
      await ends(match(spectra, options, terminal, await tools.spectra()));
    });

  program
    .command('report')
    .description('the report of a study: HTML, PDF, Markdown, or a folder of tables')
    .argument('<folder>', 'the laboratory')
    .option('--study <name>', 'which study, where there are several')
    .requiredOption('--out <file>', 'a name ending in .html, .pdf or .md; any other name is a folder of CSV')
    .option('--pictures <number>', 'pictures of pieces for each run', option(readPictures), 6)
    .option('--replace', 'write over what is there')
    .option('--json', 'one JSON object')
    .action(async (folder: string, options) => {
      const { report } = await import('./report.ts');
      await ends(report(folder, options, terminal, await tools.laboratory()));
    });

  program
    .command('open')
    .description('start the web application on a laboratory folder and print its address')
    .argument('[folder]', 'the laboratory, made when there is none', 'laboratory')
    .option(
      '--port <number>',
      'port to listen on; without it 7319 or the next that is free',
      option(readPort),
    )
    .option('--json', 'one JSON object with the address, once it answers')
    .action(async (folder: string, options) => {
      const { open } = await import('./laboratory.ts');
      await ends(open(folder, options, terminal, await tools.laboratory()));
    });

  program
    .command('demo')
    .description('make the example laboratory there, all invented, from drawn photographs to claim')
    .argument('<folder>', 'a folder that is empty or not there yet')
    .option('--json', 'one JSON object')
    .action(async (folder: string, options) => {
      const { demo } = await import('./demo.ts');
      await ends(demo(folder, options, terminal, await tools.laboratory()));
    });

  groupVerbs(program, tools, terminal, ends);
  wholeVerbs(program, tools, terminal, ends);

  program
    .command('pack')
    .description('a study out to one archive in open formats, originals to the byte')
    .argument('<folder>', 'the laboratory')
    .requiredOption('--study <name>', 'the study')
    .requiredOption('--out <file.zip>', 'the archive to write')
    .option('--json', 'one JSON object')
    .action(async (folder: string, options) => {
      const { pack } = await import('./pack.ts');
      await ends(pack(folder, options, terminal, await tools.archives()));
    });

  program
    .command('unpack')
    .description('a packed study into a laboratory, everything checked before anything is kept')
    .argument('<file.zip>', 'the archive that pack wrote')
    .argument('<folder>', 'the laboratory, made when there is none')
    .option('--as <name>', 'another name for the study, where its own is taken')
    .option('--json', 'one JSON object')
    .action(async (file: string, folder: string, options) => {
      const { unpack } = await import('./unpack.ts');
      await ends(unpack(file, folder, options, terminal, await tools.archives()));
    });

  program
    .command('check')
    .description('every original and record of a laboratory, verified')
    .argument('<folder>', 'the laboratory; of a group: its postgres:// address')
    .option('--originals <place>', 'of a group: where its photographs lie')
    .option('--json', 'one JSON object')
    .action(async (folder: string, options) => {
      const { check } = await import('./laboratory.ts');
      await ends(check(folder, options, terminal, await tools.laboratory()));
    });

  try {
    await program.parseAsync([...words], { from: 'user' });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? STATUS.done : STATUS.misuse;
    const { why, message } = troubleOf(error);
    const inside = error instanceof Error ? error.message : String(error);
    terminal.err(why === 'machine-failed' ? `The machine failed: ${inside}\n` : `${message}\n`);
    return STATUS.refused;
  }
}
