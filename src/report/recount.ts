/**
 * The reader's recount: the same judgement as in the program, on the counts that follow when a reader re-classes pieces. It works on
 * differences, so that what no piece stands for (evidence, recovery, runs without a photograph here) stays as it was.
 */
import { type CountingInput, judge } from '../science/counting/index.ts';
import type { Shape } from '../science/imaging/finding.ts';
import { type Claim, type ClaimFacts, claimFrom } from '../study/index.ts';
import { type CountScope, pieceCounts, type ReportFacts, type ReportPiece, scopeOf } from './facts.ts';

/** Drawn relabellings are those of the program, so that the same counts give the same digits. */
const SEED = 20_260_101;

export interface RecountData {
  readonly input: CountingInput;
  readonly facts: ClaimFacts;
  readonly scope: CountScope;
  readonly pieces: readonly (Pick<
    ReportPiece,
    'id' | 'run' | 'photo' | 'number' | 'feretMaxUm' | 'shape' | 'colour' | 'standing'
  > & { readonly image: string | null })[];
}

/** What a reader says of a piece instead. */
export interface Reclass {
  readonly shape: Shape;
  readonly standing: ReportPiece['standing'];
}

export interface Recounted {
  readonly claim: Claim;
  /** Runs whose count moved. */
  readonly moved: readonly { readonly run: string; readonly from: number; readonly to: number }[];
}

/** Everything that the recount of the first specimen needs; null where nothing was judged. */
export function recountData(facts: ReportFacts): RecountData | null {
  const first = facts.specimens[0];
  if (!first || first.judged === null) return null;
  const runs = new Set([...first.input.input.portions, ...first.input.input.controls].map((run) => run.name));
  const images = new Map(facts.pictures.map(({ piece, image }) => [piece.id, image]));
  return {
    input: first.input.input,
    facts: first.facts,
    scope: scopeOf(facts),
    pieces: facts.pieces
      .filter((piece) => runs.has(piece.run) && piece.feretMaxUm !== null)
      .map(({ id, run, photo, number, feretMaxUm, shape, colour, standing }) => ({
        id,
        run,
        photo,
        number,
        feretMaxUm: feretMaxUm === null ? null : Math.round(feretMaxUm * 10) / 10,
        shape,
        colour,
        standing,
        image: images.get(id) ?? null,
      })),
  };
}

/** The claim as it would be with these pieces classed otherwise. Counts never fall below nought. */
export function recount(data: RecountData, changes: ReadonlyMap<string, Reclass>): Recounted {
  const moves = new Map<string, number>();
  for (const piece of data.pieces) {
    const change = changes.get(piece.id);
    if (change === undefined) continue;
    const was = pieceCounts(piece, data.scope);
    const is = pieceCounts({ ...piece, ...change }, data.scope);
    if (was !== is) moves.set(piece.run, (moves.get(piece.run) ?? 0) + (is ? 1 : -1));
  }
  const moved: Recounted['moved'][number][] = [];
  const with_ = <R extends { readonly name: string; readonly count: number }>(
    runs: readonly R[],
  ): readonly R[] =>
    runs.map((run) => {
      const by = moves.get(run.name) ?? 0;
      if (by === 0) return run;
      const to = Math.max(0, run.count + by);
      moved.push({ run: run.name, from: run.count, to });
      return { ...run, count: to };
    });
  const input: CountingInput = {
    ...data.input,
    portions: with_(data.input.portions),
    controls: with_(data.input.controls),
  };
  return { claim: claimFrom(judge(input, { seed: SEED }), data.facts), moved };
}
