import { claimFromCounts } from '../api/index.ts';
import type { CountingInput, SizedParticle, SizedSides } from '../science/counting/index.ts';
import { done, type Micrometres, type Outcome, refused } from '../units/index.ts';
import { claimWords } from './claim-words.ts';
import { chanceFromFile } from './completeness-file.ts';
import { readBlank, readDrill, readPortion, readRecovery, readShare, readSizes } from './counts-option.ts';
import { STATUS, type Status } from './misuse.ts';
import { tellRefusal } from './refusal.ts';
import type { Terminal } from './tools.ts';

export interface ClaimOptions {
  readonly portion: readonly string[];
  readonly blank: readonly string[];
  readonly passed: string;
  readonly examined: string;
  readonly recovery: readonly string[];
  readonly sizes: readonly string[];
  readonly smallest?: Micrometres;
  readonly completeness?: string;
  readonly drill?: string;
  readonly confidence: string;
  readonly json?: boolean;
}

/** `retentate claim`: a claim from counts alone. Refused where the counts are no counts; every claim state is an answer. */
export async function claim(options: ClaimOptions, terminal: Terminal): Promise<Status> {
  const input = readInput(options);
  const sizes = input.ok ? readSides(options.sizes, input.value) : input;
  const chance =
    options.completeness === undefined ? done(undefined) : await chanceFromFile(options.completeness);
  const made = !input.ok
    ? input
    : !sizes.ok
      ? sizes
      : !chance.ok
        ? chance
        : claimFromCounts(input.value, sizes.value, options.smallest ?? null, chance.value);
  if (!made.ok) {
    return tellRefusal(made.refusal, options, terminal);
  }
  terminal.out(options.json ? `${JSON.stringify(made.value)}\n` : claimWords(made.value));
  return STATUS.done;
}

/** Sizes of the particles of every run, both sides; null where none were given. As many sizes as particles are needed. */
function readSides(texts: readonly string[], input: CountingInput): Outcome<SizedSides | null> {
  if (texts.length === 0) return done(null);
  const given = new Map<string, readonly number[]>();
  for (const text of texts) {
    const sizes = readSizes(text);
    if (!sizes.ok) return sizes;
    const { name, sizesUm } = sizes.value;
    given.set(name, [...(given.get(name) ?? []), ...sizesUm]);
  }
  const sides = { specimens: [] as SizedParticle[], controls: [] as SizedParticle[] };
  for (const [side, runs] of [
    ['specimens', input.portions],
    ['controls', input.controls],
  ] as const) {
    for (const { name, count } of runs) {
      const sizes = given.get(name) ?? [];
      given.delete(name);
      if (sizes.length !== count) {
        return refused({
          why: 'sizes-do-not-fit',
          message: `sizes of “${name}”: ${sizes.length} were given for ${count} particles; give one size for each.`,
        });
      }
      sides[side].push(...sizes.map((sizeUm) => ({ sizeUm, fibre: false })));
    }
  }
  const [unknown] = given.keys();
  if (unknown !== undefined) {
    return refused({
      why: 'sizes-do-not-fit',
      message: `sizes of “${unknown}”: there is no portion or blank of that name.`,
    });
  }
  return done(sides);
}

function readInput(options: ClaimOptions): Outcome<CountingInput> {
  const passed = readShare(options.passed, 'passed');
  if (!passed.ok) return passed;
  const examined = readShare(options.examined, 'examined');
  if (!examined.ok) return examined;
  const seen = { passed: passed.value, examined: examined.value };
  const portions = [];
  for (const [at, text] of options.portion.entries()) {
    const portion = readPortion(text, at + 1);
    if (!portion.ok) return portion;
    portions.push({ ...portion.value, ...seen });
  }
  const controls = [];
  for (const [at, text] of options.blank.entries()) {
    const blank = readBlank(text, at + 1);
    if (!blank.ok) return blank;
    controls.push({ ...blank.value, ...seen });
  }
  const spikes = [];
  for (const text of options.recovery) {
    const spike = readRecovery(text);
    if (!spike.ok) return spike;
    spikes.push(spike.value);
  }
  const drill = options.drill === undefined ? done(null) : readDrill(options.drill);
  if (!drill.ok) return drill;
  const confidence = readShare(options.confidence, 'confidence');
  if (!confidence.ok) return confidence;
  return done({
    portions,
    controls,
    recovery:
      spikes.length === 0
        ? null
        : {
            found: spikes.reduce((sum, s) => sum + s.found, 0),
            added: spikes.reduce((sum, s) => sum + s.added, 0),
          },
    // several spiked runs tell how recovery scatters
    ...(spikes.length > 1 ? { spikes } : {}),
    drill: drill.value,
    confidence: confidence.value,
  });
}
