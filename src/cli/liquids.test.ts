import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { type CommandTools, runCommand } from './index.ts';

const folder = mkdtempSync(join(tmpdir(), 'marks-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const unused = () => Promise.reject(new Error('not for this command'));
const tools = { version: '0', photoSearch: unused, laboratory: unused } as unknown as CommandTools;

async function run(...words: readonly string[]) {
  let out = '';
  let err = '';
  const status = await runCommand(words, tools, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    watched: false,
    signal: new AbortController().signal,
  });
  return { status, out, err };
}

const marks = (text: string): string => {
  const path = join(folder, 'marks.csv');
  writeFileSync(path, text);
  return path;
};
const CLOGGING = 'time_s,volume_ml\n30,5\n75,10\n140,15\n230,20\n350,25\n520,30\n';

describe('retentate flow', () => {
  it('gives law, capacity with its band and plan', async () => {
    const { status, out } = await run('flow', marks(CLOGGING), '--volume', '200mL', '--json');
    const flow = JSON.parse(out);
    expect(status).toBe(0);
    expect(flow.format).toBe('retentate/flow/1');
    expect(flow.law).toBe('intermediate');
    expect(flow.capacity_ml.lower).toBeLessThan(flow.capacity_ml.value);
    expect(flow.passed).toBeCloseTo(0.15, 12);
    expect(flow.filters).toBe(9);
  });

  it('reads semicolons with decimal commas, minutes and litres alike', async () => {
    const one = JSON.parse((await run('flow', marks(CLOGGING), '--json')).out);
    const other = JSON.parse(
      (
        await run(
          'flow',
          marks(
            'V (L);t (min)\n0,005;0,5\n0,01;1,25\n0,015;2,33333\n0,02;3,83333\n0,025;5,83333\n0,03;8,66667\n',
          ),
          '--json',
        )
      ).out,
    );
    expect(other.capacity_ml.value).toBeCloseTo(one.capacity_ml.value, 3);
  });

  it.each([
    ['--volume', '0mL', 'The volume to be filtered is 0 mL'],
    ['--area', '0cm2', 'The wetted area of the filter is 0 cm²'],
    ['--pore', '0um', 'The pore is 0 µm'],
    ['--smallest', '0um', 'The smallest piece asked for is 0 µm'],
  ])('refuses %s %s in a sentence that says what to do', async (name, value, says) => {
    const { status, err } = await run('flow', marks(CLOGGING), name, value);
    expect(status).toBe(1);
    const said = err.replace(/\s+/g, ' ');
    expect(said).toContain(says);
    expect(said).toMatch(/must be above 0 .*leave it out/);
  });

  it('says how many pieces a filter shows, and shares too many out', async () => {
    const few = ['--area', '9.6cm2', '--piece', '100um', '--json'];
    const one = JSON.parse((await run('flow', marks(CLOGGING), ...few)).out);
    // 5 % of 9.6 cm² by discs of 100 µm: 0.05 × 9.6e8 / 7853.98 = 6111.5.
    expect(one.load).toMatchObject({ most_pieces: 6111, share: null, too_many: false });
    const many = JSON.parse((await run('flow', marks(CLOGGING), '--pieces', '20000', ...few)).out);
    expect(many.load).toMatchObject({ too_many: true, filters: 4 });
    expect(many.advice.at(-1).message).toContain('share them out on 4 filters');
  });

  it('gives the printed resistances of the textbook cake', async () => {
    // McCabe, Smith & Harriott: slurry of CaCO₃, 440 cm², 6.7 psi, 23.5 g/L, in water of 0.886 mPa·s; ours is taken at 1.0016.
    const cake = 'time_s,volume_ml\n17.3,500\n41.3,1000\n72,1500\n108.3,2000\n152.1,2500\n201.7,3000\n';
    const given = ['--area', '440cm2', '--pressure', '46.195kPa', '--solids', '23.5g/L', '--json'];
    const { resistance } = JSON.parse((await run('flow', marks(cake), ...given)).out);
    expect((resistance.cake_m_per_kg * 1.0016) / 0.886 / 1e11).toBeCloseTo(1.1192, 2);
    expect((resistance.membrane_per_m * 1.0016) / 0.886 / 3.28084 / 1e10).toBeCloseTo(1.98, 1);
  });

  it('carries a test disc over to a wider filter', async () => {
    const one = JSON.parse((await run('flow', marks(CLOGGING), '--json')).out);
    const wide = JSON.parse(
      (await run('flow', marks(CLOGGING), '--area', '1.5cm2', '--onto', '9.6cm2', '--json')).out,
    );
    expect(wide.capacity_ml.value / one.capacity_ml.value).toBeCloseTo(6.4, 2);
  });

  it('prints a page that says what to do', async () => {
    const { out } = await run('flow', marks(CLOGGING), '--volume', '200mL');
    expect(out).toMatch(/^This filter takes about .* mL/);
    expect(out).toContain('Use 9 filters');
    expect(out).toContain('They are not measured');
  });

  it.each([
    ['unsorted marks', 'time_s,volume_ml\n30,5\n10,10\n50,15\n', 'clock-runs-back'],
    ['falling volumes', 'time_s,volume_ml\n30,5\n40,10\n50,8\n', 'volume-falls'],
    ['two points', 'time_s,volume_ml\n30,5\n40,10\n', 'too-few-marks'],
    ['no unit', 'time,volume_ml\n30,5\n40,10\n50,15\n', 'unit-missing'],
    ['no volume', 'time_s,mass_g\n30,5\n40,10\n50,15\n', 'no-column'],
    ['commas in numbers and between', 'time_s,volume_ml\n3,5,1,2\n', 'more-cells-than-headings'],
    ['nothing', '', 'empty-table'],
  ])('refuses %s with a reason', async (_what, text, why) => {
    const { status, out, err } = await run('flow', marks(text), '--json');
    expect(status).toBe(1);
    expect(JSON.parse(out).refusal.why).toBe(why);
    expect(err.trim()).not.toBe('');
  });

  it('refuses a file that is not there, and misuse is misuse', async () => {
    expect((await run('flow', join(folder, 'nothing.csv'))).err).toContain('there is no such file');
    expect((await run('flow', marks(CLOGGING), '--volume', '200')).status).toBe(2);
    expect((await run('flow')).status).toBe(2);
  });
});

describe('retentate settle', () => {
  it('tells times and verdicts', async () => {
    const { out } = await run(
      'settle',
      ...['--material', 'PET', '--size', '20um', '--shape', 'sphere', '--after', '30min', '--json'],
    );
    const report = JSON.parse(out);
    expect(report.format).toBe('retentate/settle/1');
    expect(report.materials[0].sizes[0].verdict).toBe('sediment');
    // 20 µm PET spheres need some 20 minutes for 100 mm.
    expect(report.materials[0].sizes[0].clears_in_s / 60).toBeGreaterThan(18);
    expect(report.materials[0].sizes[0].clears_in_s / 60).toBeLessThan(28);
  });

  it('in a brine, and in a liquid of one’s own', async () => {
    const { out } = await run('settle', '--brine', 'NaCl:26%', '--material', 'PC', '--size', '100um');
    expect(out).toMatch(/table salt 26 % in water/);
    expect(out).toContain('?');
    expect((await run('settle', '--density', '1.1g/mL')).status).toBe(1);
    expect((await run('settle', '--brine', 'NaCl')).err).toContain('NaCl:26%');
  });

  it.each([
    [['--temperature', '300C'], 2],
    [['--height', '0mm'], 1],
    [['--size', '0um'], 1],
    [['--material', 'unobtainium'], 2],
    [['--shape', 'banana'], 2],
    [['--after', '10'], 2],
  ] as const)('%j ends with %d', async (words, status) => {
    expect((await run('settle', ...words)).status).toBe(status);
  });
});

describe('retentate brine', () => {
  it('gives a recipe and what is undecided', async () => {
    const { status, out } = await run('brine', 'NaCl', '--share', '26%', '--volume', '1L', '--json');
    const made = JSON.parse(out);
    expect(status).toBe(0);
    expect(made.salt_g + made.water_g).toBeCloseTo(1197.2, 1);
    const verdict = (code: string) =>
      made.materials.find((one: { code: string }) => one.code === code).verdict;
    expect(verdict('PC')).toBe('undecided');
    expect(verdict('PS')).toBe('floats');
    expect(verdict('PET')).toBe('sinks');
  });

  it('without a salt lists what there is; out of reach is refused', async () => {
    expect((await run('brine')).out).toContain('zinc chloride');
    expect((await run('brine', 'NaCl', '--density', '1.3g/mL')).status).toBe(1);
    expect((await run('brine', 'unicorn', '--share', '5%')).status).toBe(1);
    expect((await run('brine', 'NaCl')).err).toContain('--density 1.2g/mL');
  });
});

describe('retentate digest', () => {
  it('lists matrices, and options for one', async () => {
    expect((await run('digest')).out).toContain('carrot');
    const { status, out } = await run(
      'digest',
      'plant',
      '--polymer',
      'PE',
      '--mass',
      '2g',
      '--setting',
      'school',
      '--json',
    );
    const made = JSON.parse(out);
    expect(status).toBe(0);
    const fenton = made.options.find((one: { reagent: string }) => one.reagent === 'fenton');
    expect(fenton.standing).toBe('not-here');
    expect(fenton.volume_ml).toBe(40);
    expect(fenton.harm[0].harm).toBe('ok');
  });

  it('says that data sheets come first, and refuses what it does not know', async () => {
    expect((await run('digest', 'fatty')).out).toContain('Safety data sheets');
    expect((await run('digest', 'granite')).status).toBe(1);
    expect((await run('digest', 'plant', '--polymer', 'XX')).status).toBe(2);
  });
});

describe('what is a little beyond, and what was not asked', () => {
  it('gives the saturated brine where print rounds it up, and refuses more', async () => {
    const { status, out } = await run('brine', 'NaCl', '--density', '1.2g/mL', '--json');
    expect(status).toBe(0);
    const made = JSON.parse(out);
    expect(made.density_kg_m3).toBeCloseTo(1197.2, 0);
    expect(made.instead).toContain('1.197 g/mL');
    const page = (await run('brine', 'NaCl', '--density', '1.2g/mL')).out.replace(/\s+/g, ' ');
    expect(page).toContain('densest tabulated brine, 1.197 g/mL');
    expect((await run('brine', 'NaCl', '--density', '1.25g/mL')).status).toBe(1);
  });

  it('calls nothing lacking that nobody asked for', async () => {
    const standings = async (...more: string[]) =>
      JSON.parse((await run('digest', 'plant', ...more, '--json')).out).options.map(
        (one: { standing: string }) => one.standing,
      );
    const plain = await standings();
    expect(plain).toContain('not-asked');
    expect(plain).not.toContain('needs-equipment');
    expect(await standings('--have', 'thermometer')).toContain('needs-equipment');
  });

  it('judges a coupon', async () => {
    const verdict = async (...more: string[]) =>
      JSON.parse((await run('digest', '--coupon', ...more, '--json')).out).verdict;
    expect(await verdict('10:9')).toBe('harmed');
    expect(await verdict('10:10,25.1:24.9', '--balance', '0.1mg')).toBe('unharmed');
    expect(await verdict('10:10,25.1:22', '--balance', '0.1mg')).toBe('harmed');
    expect(await verdict('10:10')).toBe('cannot-say');
    expect(await verdict('10:10,-,38:37.5')).toBe('unharmed');
    expect((await run('digest', '--coupon', 'ten')).status).toBe(2);
  });
});
