import { type BandWitness, peaksOf, witness } from './bands.ts';
import { doubtfulReferences } from './doubtful.ts';
import { type FamilyModel, fitAgain, fitFamilies, scoreFamilies } from './family-model.ts';
import { GRIDS, type Gridded, toGrid } from './grid.ts';
import { kin, kindOf, type MaterialKind } from './materials.ts';
import { findMixture } from './mixture.ts';
import type { Reference } from './reference.ts';
import { represent, standardise } from './representation.ts';
import { savitzkyGolay } from './savitzky-golay.ts';
import type { Spectrum, Technique } from './spectrum.ts';
import { evidenceOf, type Threshold, thresholdFor } from './threshold.ts';

/** Ridge of the family model, in units of a reference's own likeness. */
const RIDGE = 0.3;
/** More references than these are thinned evenly over the families before the model is fitted; likeness uses all. */
const MODEL_ROWS = 900;

/** References of one technique, made ready once and asked many times. */
export interface ReferenceSet {
  readonly technique: Technique;
  readonly references: readonly Reference[];
  readonly families: readonly string[];
  readonly gridded: readonly Gridded[];
  readonly views: readonly Float64Array[];
  readonly slopes: readonly Float64Array[];
  /** Models by the stretch that a query covers. */
  readonly models: Map<string, ReadyModel>;
  readonly falseAccepts: number;
}

interface ReadyModel {
  readonly model: FamilyModel;
  readonly counts: Uint8Array;
  readonly threshold: Threshold;
  /** References in the model, by place in the set. */
  readonly chosen: readonly number[];
  readonly doubtful: Match['doubtful'];
}

/** One family in the ranking. */
export interface Ranked {
  readonly family: string;
  readonly kind: MaterialKind;
  /** Score of the family; only the order and the gaps mean something. */
  readonly score: number;
  /** Mean correlation with the most alike reference of the family, −1 … 1. */
  readonly likeness: number;
  readonly reference: number;
}

export interface Match {
  readonly technique: Technique;
  readonly ranking: readonly Ranked[];
  readonly answer: Ranked | null;
  readonly cannotTell: {
    readonly why: 'too-unlike' | 'too-close' | 'bands-missing';
    readonly message: string;
  } | null;
  readonly evidence: number;
  readonly threshold: Threshold;
  readonly bands: BandWitness | null;
  readonly mixture: {
    readonly references: readonly [number, number];
    readonly shares: readonly [number, number];
    readonly explained: number;
  } | null;
  /** References set aside because they are more like another family than the one they are labelled with. */
  readonly doubtful: readonly { readonly reference: number; readonly like: string }[];
}

/** Makes references of one technique ready. Throws RangeError without any. */
export function referenceSet(
  references: readonly Reference[],
  technique: Technique,
  falseAccepts = 0.02,
): ReferenceSet {
  const fit = references.filter(({ spectrum }) => spectrum.technique === technique);
  if (fit.length === 0) throw new RangeError(`references: at least one ${technique} spectrum is needed`);
  const gridded = fit.map(({ spectrum }) => toGrid(spectrum, GRIDS[technique]));
  return {
    technique,
    references: fit,
    families: [...new Set(fit.map(({ family }) => family))].sort(),
    gridded,
    views: gridded.map((g) => represent(g, technique)),
    slopes: gridded.map(slopeOf),
    models: new Map(),
    falseAccepts,
  };
}

const slopeOf = ({ heights, covered }: Gridded): Float64Array => {
  const slope = savitzkyGolay(heights, 11, 2, 1).map((v, k) => (covered[k] === 1 ? v : 0));
  const size = Math.sqrt(slope.reduce((sum, v) => sum + v * v, 0));
  return size > 0 ? slope.map((v) => v / size) : slope;
};

/** What a spectrum is like among the references, or that it cannot be told, and why. */
export function match(query: Spectrum, set: ReferenceSet): Match {
  if (query.technique !== set.technique) {
    throw new RangeError(`a ${query.technique} spectrum cannot be held against ${set.technique} references`);
  }
  const gridded = toGrid(query, GRIDS[set.technique]);
  const ready = modelFor(set, gridded);
  const views = represent(gridded, set.technique);
  standardise(views, ready.counts);
  const scored = scoreFamilies(ready.model, views);
  const likeness = new Float64Array(set.references.length).fill(-1);
  for (const [row, reference] of ready.chosen.entries()) likeness[reference] = scored.likeness[row]!;
  const best = set.families.map((family) => bestOfFamily(set, likeness, family));
  const present = set.families.map((_, f) => f).filter((f) => best[f]! >= 0);
  const lead = evidenceOf(
    present,
    set.families,
    kin,
    (f) => scored.score[f]!,
    (f) => likeness[best[f]!]!,
  )!;
  const ranking = lead.order.map((f): Ranked => {
    const reference = best[f]!;
    const { family, material } = set.references[reference]!;
    return {
      family,
      kind: kindOf(material, family),
      score: scored.score[f]!,
      likeness: likeness[reference]!,
      reference,
    };
  });
  const first = ranking[0]!;
  const peaks = peaksOf(query);
  const bands = witness(query, peaks, first.family, set.references[first.reference]!.material);
  const cannotTell = doubt(first, ranking, lead.evidence, ready.threshold, bands);
  return {
    technique: set.technique,
    ranking,
    answer: cannotTell === null ? first : null,
    cannotTell,
    evidence: lead.evidence,
    threshold: ready.threshold,
    bands,
    mixture: mixtureOf(set, gridded, likeness, best),
    doubtful: ready.doubtful,
  };
}

function doubt(
  first: Ranked,
  ranking: readonly Ranked[],
  evidence: number,
  threshold: Threshold,
  bands: BandWitness | null,
): Match['cannotTell'] {
  const per = `${Number((threshold.falseAccepts * 100).toPrecision(2))} in 100 strangers`;
  if (evidence <= threshold.evidence) {
    const next = ranking.find((other) => !kin(other.family, first.family));
    const close =
      next !== undefined && first.likeness - next.likeness < 0.1 && first.likeness > threshold.evidence;
    return close
      ? {
          why: 'too-close',
          message: `It is nearly as like ${next.family} (${two(next.likeness)}) as ${first.family} (${two(first.likeness)}): the evidence of ${two(evidence)} does not reach ${two(threshold.evidence)}, which ${per} would pass.`,
        }
      : {
          why: 'too-unlike',
          message: `It is most like ${first.family} (likeness ${two(first.likeness)}), but the evidence of ${two(evidence)} does not reach ${two(threshold.evidence)}, which ${per} would pass.`,
        };
  }
  if (bands !== null && bands.found.length + bands.missing.length >= 4) {
    const share = bands.found.length / (bands.found.length + bands.missing.length);
    if (share < 0.3) {
      return {
        why: 'bands-missing',
        message: `Its shape is most like ${first.family}, but of that material's published bands only ${bands.found.length} of ${bands.found.length + bands.missing.length} are there.`,
      };
    }
  }
  return null;
}

function bestOfFamily(set: ReferenceSet, likeness: Float64Array, family: string): number {
  let best = -1;
  for (const [k, reference] of set.references.entries()) {
    if (reference.family !== family || likeness[k]! <= -1) continue;
    // At equal likeness to two places the laboratory's own material goes first.
    if (
      best < 0 ||
      likeness[k]! + (reference.own ? 0.005 : 0) > likeness[best]! + (set.references[best]!.own ? 0.005 : 0)
    ) {
      best = k;
    }
  }
  return best;
}

/** The model over what the query covers; the same stretch is fitted once. */
function modelFor(set: ReferenceSet, query: Gridded): ReadyModel {
  // Stretches are told apart to eight points, so that spectra of one instrument share a model.
  const key = `${Math.ceil(query.first / 8)} ${Math.floor(query.last / 8)}`;
  const before = set.models.get(key);
  if (before) return before;
  const counts = Uint8Array.from(query.covered, (c, k) =>
    c === 1 && k >= Math.ceil(query.first / 8) * 8 && k <= Math.floor(query.last / 8) * 8 + 7 ? 1 : 0,
  );
  const all = chosenFor(set, counts);
  const whole = fitFamilies(
    {
      rows: all.map((k) => set.views[k]!),
      family: all.map((k) => set.families.indexOf(set.references[k]!.family)),
      families: set.families.length,
      points: counts.length,
    },
    counts,
    RIDGE,
  );
  const doubted = doubtfulReferences(whole, set.families, kin);
  const aside = new Set(doubted.map(({ row }) => row));
  const kept = all.map((_, row) => row).filter((row) => !aside.has(row));
  const model = doubted.length === 0 ? whole : fitAgain(whole, kept, RIDGE);
  const ready: ReadyModel = {
    model,
    counts,
    threshold: thresholdFor(model, set.families, kin, set.technique, set.falseAccepts),
    chosen: kept.map((row) => all[row]!),
    doubtful: doubted.map(({ row, like }) => ({ reference: all[row]!, like: set.families[like]! })),
  };
  set.models.set(key, ready);
  return ready;
}

/** References that reach over at least half of what the query covers, thinned evenly where there are very many. */
function chosenFor(set: ReferenceSet, counts: Uint8Array): number[] {
  const asked = counts.reduce((sum, c) => sum + c, 0);
  const shared = (k: number) =>
    set.gridded[k]!.covered.reduce((sum: number, c, g) => sum + (c === 1 && counts[g] === 1 ? 1 : 0), 0);
  let fit = set.references.map((_, k) => k).filter((k) => shared(k) >= 0.5 * asked);
  if (fit.length === 0) fit = set.references.map((_, k) => k);
  if (fit.length <= MODEL_ROWS) return fit;
  const each = new Map<string, number[]>();
  for (const k of fit) {
    const family = set.references[k]!.family;
    each.set(family, [...(each.get(family) ?? []), k]);
  }
  const room = Math.floor(MODEL_ROWS / each.size);
  return [...each.values()]
    .flatMap((list) => list.filter((_, at) => at % Math.max(1, Math.ceil(list.length / room)) === 0))
    .sort((a, b) => a - b);
}

function mixtureOf(
  set: ReferenceSet,
  query: Gridded,
  likeness: Float64Array,
  best: readonly number[],
): Match['mixture'] {
  const nearest = [...likeness.keys()].sort((a, b) => likeness[b]! - likeness[a]!).slice(0, 12);
  const tried = [...new Set([...nearest, ...best.filter((k) => k >= 0)])];
  const seen = (slope: Float64Array) => slope.map((v, k) => (query.covered[k] === 1 ? v : 0));
  const found = findMixture(
    slopeOf(query),
    tried.map((k) => seen(set.slopes[k]!)),
    tried.map((k) => set.families.indexOf(set.references[k]!.family)),
  );
  return found === null
    ? null
    : {
        references: [tried[found.first]!, tried[found.second]!],
        shares: found.shares,
        explained: found.explained,
      };
}

const two = (n: number): string => n.toFixed(2);
