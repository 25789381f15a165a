/** `tsx demo/photographs/draw.ts FOLDER [SEED]` draws the photographs of the example. */
import { drawExamplePhotographs } from './draw-examples.ts';

const [folder, seed = '1'] = process.argv.slice(2);
if (!folder || !/^\d+$/.test(seed)) {
  process.stderr.write('Which folder? tsx demo/photographs/draw.ts FOLDER [SEED]\n');
  process.exitCode = 2;
} else {
  await drawExamplePhotographs(folder, Number(seed), (done, all, name) => {
    process.stdout.write(`${done} of ${all}: ${name}\n`);
  });
}
