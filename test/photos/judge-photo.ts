/** One photograph judged: hits, misses, false finds, and how well the hits were measured. */
import type { Decoy } from '../../demo/drawing/truth.ts';
import type { Particle } from '../../src/science/imaging/index.ts';
import type { TestPiece, TestTruth } from './drawing/compose.ts';
import { type FoundForm, matchForms, partOf, type TrueForm } from './match.ts';

export type FalseKind = Decoy['kind'] | 'part of a piece' | 'elsewhere';

/** What is needed of a particle to judge it; a yardstick has no certainty. */
export type JudgedParticle = Pick<
  Particle,
  | 'outlinePx'
  | 'centroidPx'
  | 'areaPx2'
  | 'feretMaxPx'
  | 'areaUm2'
  | 'feretMaxUm'
  | 'fibreLengthUm'
  | 'touchesFrame'
> & { readonly certainty?: Particle['certainty'] };

export interface JudgedFinding {
  readonly particles: readonly JudgedParticle[];
  readonly floorPx: number;
  readonly scale: { readonly umPerPx: number } | null;
  readonly refusal: { readonly why: string } | null;
}

export interface JudgedPhoto {
  readonly name: string;
  readonly floorUm: number;
  readonly hits: readonly {
    readonly piece: TestPiece;
    readonly particle: JudgedParticle;
    readonly score: number;
  }[];
  /** Visible, large enough, not found. */
  readonly misses: readonly TestPiece[];
  readonly falseFinds: readonly { readonly particle: JudgedParticle; readonly kind: FalseKind }[];
  /** True pieces too small or too faint to ask for, found or not. */
  readonly passedOver: number;
  /** Finds matched with such pieces: neither right nor wrong. */
  readonly neutral: number;
  /** Every find with its certainty, and whether it is real. */
  readonly certainties: readonly { readonly said: number; readonly real: boolean }[];
  /** Found scale over true scale − 1; null without a scale. */
  readonly scaleError: number | null;
  readonly scaleFound: boolean;
  readonly gridPrinted: boolean;
  readonly refusal: string | null;
}

export const trueForm = (p: TestPiece): TrueForm => ({
  outline: p.outline_px,
  line: p.fibre_line_px,
  halfPx: ((p.fibre_width_um ?? 0) / 2) * (p.feret_max_px / p.feret_max_um),
  feretPx: p.feret_max_px,
});
const foundForm = (p: JudgedParticle): FoundForm => ({ outline: p.outlinePx, feretPx: p.feretMaxPx });

/**
 * Judges a finding against the truth. Pieces below the finding's own floor (or below `smallestUm`) and pieces that no
 * careful person could see are passed over. A piece just above the floor may be measured just below it and so be lost:
 * that is a miss, as it is for a user.
 */
export function judgePhoto(truth: TestTruth, finding: JudgedFinding, smallestUm: number | null): JudgedPhoto {
  const umPerPx = truth.scale.um_per_px;
  const floorUm = Math.max(smallestUm ?? 0, finding.floorPx * umPerPx);
  const { pieces } = truth;
  const asked = pieces.map((p) => p.shown.visible && p.feret_max_um >= floorUm);
  const { particles } = finding;
  const pairs = matchForms(pieces.map(trueForm), particles.map(foundForm));
  const pieceOf = new Map(pairs.map((p) => [p.find, p]));
  const found = new Set(pairs.map((p) => p.truth));
  const hits = pairs
    .filter((p) => asked[p.truth])
    .map((p) => ({ piece: pieces[p.truth]!, particle: particles[p.find]!, score: p.score }));
  const extra = particles.filter((_, i) => !pieceOf.has(i));
  return {
    name: truth.photo.name,
    floorUm,
    hits,
    misses: pieces.filter((_, i) => asked[i] && !found.has(i)),
    falseFinds: extra.map((particle) => ({ particle, kind: kindOf(particle, truth) })),
    passedOver: asked.filter((a) => !a).length,
    neutral: pairs.filter((p) => !asked[p.truth]).length,
    certainties: particles.flatMap((p, i) =>
      p.certainty ? [{ said: p.certainty.real, real: pieceOf.has(i) }] : [],
    ),
    scaleError: finding.scale ? finding.scale.umPerPx / umPerPx - 1 : null,
    scaleFound: finding.scale !== null,
    gridPrinted: truth.scale.pitch_mm !== null,
    refusal: finding.refusal?.why ?? null,
  };
}

function kindOf(particle: JudgedParticle, truth: TestTruth): FalseKind {
  const form = foundForm(particle);
  if (truth.pieces.some((p) => partOf(form, trueForm(p)))) return 'part of a piece';
  const [x, y] = particle.centroidPx;
  const decoy = truth.decoys.find(
    (d) => Math.hypot(x - d.centroid_px[0], y - d.centroid_px[1]) < d.radius_px * 1.25 + 8,
  );
  return decoy?.kind ?? 'elsewhere';
}
