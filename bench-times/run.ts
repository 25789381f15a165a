/** `npm run bench [-- --mosaic]`: timing runs against named baselines. */
import { parseArgs } from 'node:util';
import { benchImaging } from './imaging.ts';

const { values } = parseArgs({ options: { mosaic: { type: 'boolean' }, photo: { type: 'string' } } });
await benchImaging((line) => console.log(line), values);
