/** The counted pieces themselves behind a claim: by category, by size band, and their mass. */
import {
  type AskedSizes,
  type BandedNet,
  bandsOf,
  type CategoryNet,
  type ChanceOfFinding,
  categoryDesign,
  checkCounts,
  type MassEstimate,
  type MassRefusal,
  massFromOutlines,
  netByCategory,
  netBySize,
  SIZE_BANDS,
  type SizeBands,
  type SizedParticle,
} from '../../science/counting/index.ts';
import { done, type Outcome, type Refusal, refused } from '../../units/index.ts';
import type { StudyInput } from '../counting-input.ts';
import type { Measured } from '../records/found.ts';
import type { PhotoId } from '../records/photo.ts';

/** What is asked of a counted piece. */
export const PIECE_MEASURES = [
  'id',
  'number',
  'standing',
  'shapeNow',
  'colourNow',
  'areaUm2',
  'feretMaxUm',
  'feretMinUm',
  'fibreLengthUm',
  'fibreWidthUm',
  'square',
] as const;

/** A counted piece (kept, or not yet looked at, in scope) and the run that it was found in. */
export interface CountedPiece {
  readonly run: string;
  readonly photo: PhotoId;
  readonly particle: Measured<(typeof PIECE_MEASURES)[number]>;
}

export interface Sides {
  readonly specimens: readonly CountedPiece[];
  readonly controls: readonly CountedPiece[];
}

/** The pieces of the runs that are judged, on either side; others (spiked runs, runs left out) are in none. */
export function sidesOf(pieces: readonly CountedPiece[], { input }: StudyInput): Sides {
  const names = (runs: readonly { readonly name: string }[]) => new Set(runs.map((run) => run.name));
  const [specimens, controls] = [names(input.portions), names(input.controls)];
  return {
    specimens: pieces.filter((piece) => specimens.has(piece.run)),
    controls: pieces.filter((piece) => controls.has(piece.run)),
  };
}

/** Size that a piece is sorted by: a fibre's length along its middle, else its longest Feret diameter. */
export const sizeOf = ({ particle }: CountedPiece): SizedParticle => ({
  sizeUm:
    particle.shapeNow === 'fibre' ? (particle.fibreLengthUm ?? particle.feretMaxUm!) : particle.feretMaxUm!,
  fibre: particle.shapeNow === 'fibre',
});

const micrometres = (n: number): string => (n >= 1000 ? `${n / 1000} mm` : `${n} µm`);

/** Name of the band that a size lies in, every name made once. */
function bandNames({ edgesUm }: SizeBands): (sizeUm: number) => string {
  const inner = edgesUm.slice(1).map((to, i) => `${micrometres(edgesUm[i]!)} to ${micrometres(to)}`);
  const names = [
    `below ${micrometres(edgesUm[0]!)}`,
    ...inner,
    `from ${micrometres(edgesUm[edgesUm.length - 1]!)}`,
  ];
  return (sizeUm) => names[edgesUm.findLastIndex((edge) => sizeUm >= edge) + 1]!;
}

export interface CategoryRow extends CategoryNet {
  readonly pieces: Sides;
}
export interface Categories {
  readonly scheme: SizeBands;
  readonly rows: readonly CategoryRow[];
  readonly total: CategoryNet;
}

export type PiecesRefusal = Refusal;

/** Why nothing can be subtracted from these counts, whole or in parts; null where it can. */
function notComparable({ input }: StudyInput): Outcome<never, PiecesRefusal> | null {
  const checked = checkCounts(input);
  if (checked.ok) return null;
  const { why, message } = checked.refusal;
  return refused({ why, message });
}

/** Net of every shape × colour × size band, largest count first; cells too small to say anything are pooled with their kin. */
export function categoriesOf(
  sides: Sides,
  from: StudyInput,
  scheme: SizeBands = bandsOf('eu-2024-1441'),
): Outcome<Categories, PiecesRefusal> {
  const bad = notComparable(from);
  if (bad) return bad;
  const bandOf = bandNames(scheme);
  const keyOf = (path: readonly string[]): string => path.join('\n');
  const cells = new Map<
    string,
    { path: readonly string[]; pieces: { specimens: CountedPiece[]; controls: CountedPiece[] } }
  >();
  for (const side of ['specimens', 'controls'] as const) {
    for (const piece of sides[side]) {
      const { shapeNow, colourNow } = piece.particle;
      const path = [shapeNow, colourNow, bandOf(sizeOf(piece).sizeUm)];
      const key = keyOf(path);
      const there = cells.get(key) ?? { path, pieces: { specimens: [], controls: [] } };
      there.pieces[side].push(piece);
      cells.set(key, there);
    }
  }
  if (cells.size === 0) {
    return refused({
      why: 'no-pieces',
      message: 'No piece was counted on either side: there is nothing to sort.',
    });
  }
  const table = netByCategory(
    [...cells.values()].map(({ path, pieces }) => ({
      path,
      specimens: pieces.specimens.length,
      controls: pieces.controls.length,
    })),
    categoryDesign(from.input),
  );
  const of = (row: CategoryNet, side: 'specimens' | 'controls'): CountedPiece[] =>
    row.cells.flatMap((path) => cells.get(keyOf(path))!.pieces[side]);
  return done({
    scheme,
    total: table.total,
    rows: table.rows
      .map((row) => ({ ...row, pieces: { specimens: of(row, 'specimens'), controls: of(row, 'controls') } }))
      .sort((a, b) => b.specimens + b.expected - (a.specimens + a.expected)),
  });
}

/** The same pieces in the bands of every scheme. */
export function sizesOf(
  sides: Sides,
  from: StudyInput,
  sizeFloorUm: number | null,
  chance?: ChanceOfFinding,
  asked?: AskedSizes,
): Outcome<readonly BandedNet[], PiecesRefusal> {
  const bad = notComparable(from);
  if (bad) return bad;
  const sized = { specimens: sides.specimens.map(sizeOf), controls: sides.controls.map(sizeOf) };
  const design = categoryDesign(from.input);
  return done(SIZE_BANDS.map((scheme) => netBySize(sized, scheme, design, sizeFloorUm, chance, asked)));
}

/** Common plastics, from polypropylene to PET. Common practice, no source. */
export const USUAL_DENSITY = { lowest: 0.9, highest: 1.4 } as const;

/** Mass of the pieces counted on the specimens' side, the background not subtracted. */
export const massOf = (
  sides: Sides,
  sizeFloorUm: number | null,
  confidence: number,
): Outcome<MassEstimate, MassRefusal> =>
  massFromOutlines(
    sides.specimens.map(({ particle }) => ({
      shape: particle.shapeNow,
      areaUm2: particle.areaUm2!,
      feretMaxUm: particle.feretMaxUm!,
      feretMinUm: particle.feretMinUm!,
      fibreLengthUm: particle.fibreLengthUm,
      fibreWidthUm: particle.fibreWidthUm,
    })),
    { densityGPerMl: USUAL_DENSITY, sizeFloorUm: sizeFloorUm ?? 0, filmThicknessUm: null, confidence },
  );
