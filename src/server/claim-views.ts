/** What lies behind a claim, as it travels. */
import { type ClaimDetails, claimDetails } from '../actions/index.ts';
import {
  type CategoryJson,
  type ClaimDetailsJson,
  intervalJson,
  type LookedJson,
  type PieceRefJson,
  robustnessJson,
  sizesJson,
} from '../api/index.ts';
import { type CountingInput, clopperPearsonInterval } from '../science/counting/index.ts';
import {
  type BalancedMass,
  type CategoryRow,
  type CountedPiece,
  sizeOf,
  USUAL_DENSITY,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import type { Served } from './served.ts';
import { countJson, runKind } from './study-views.ts';

/** Pieces shown for one category on one side. */
export const MOST_PIECES = 12;

export async function claimDetailsView(
  served: Served,
  study: string,
  specimen: string,
): Promise<Outcome<ClaimDetailsJson>> {
  const found = await claimDetails(served, { study, specimen });
  if (!found.ok) return found;
  const { counted, mine, categories, sizes, mass, balance, robustness, comparisons } = found.value;
  const judged = mine.judged.ok ? mine.judged.value : null;
  return done({
    format: 'retentate/claim-details/1',
    study,
    specimen: { id: mine.specimen.id, name: mine.specimen.name },
    specimens: counted.specimens.map(({ id, name }) => ({ id, name })),
    size_from_um: counted.sizeFromUm,
    confidence: counted.study.question.decision.confidence,
    background: mine.input.background,
    categories: categories.ok
      ? {
          scheme: categories.value.scheme.name,
          source: categories.value.scheme.source,
          rows: categories.value.rows.map((row) => categoryJson(found.value, row, row.pieces)),
          total: categoryJson(found.value, categories.value.total, { specimens: [], controls: [] }),
        }
      : null,
    categories_refusal: categories.ok ? null : categories.refusal.message,
    sizes: sizes.ok ? sizesJson(sizes.value) : null,
    sizes_refusal: sizes.ok ? null : sizes.refusal.message,
    looked: lookedOf(found.value),
    false_finds: found.value.falseFinds.map(({ asked, photos, own }) => ({
      asked,
      photographs: photos,
      own,
    })),
    mass: mass.ok
      ? {
          micrograms: intervalJson(mass.value.micrograms),
          pieces: mass.value.pieces,
          left_out: mass.value.leftOut,
          top_five: mass.value.topFive,
          density_from: USUAL_DENSITY.lowest,
          density_to: USUAL_DENSITY.highest,
        }
      : null,
    mass_refusal: mass.ok ? null : mass.refusal.message,
    mass_balance: balance.ok ? balanceJson(balance.value) : null,
    mass_balance_refusal: balance.ok ? null : balance.refusal.message,
    robustness: robustnessJson(robustness),
    comparisons: [...comparisons],
    drill: judged?.drill
      ? {
          test: counted.evidenceFor(found.value.mine.specimen).drillTest ?? 'by-eye',
          true_kept: intervalJson(judged.drill.truePositive),
          others_kept: intervalJson(judged.drill.falsePositive),
        }
      : null,
    natural_kept: judged?.naturalKept ? intervalJson(judged.naturalKept) : null,
    recovery: judged?.recovery ? intervalJson(judged.recovery) : null,
    recovery_used: judged?.joint?.recovery ? intervalJson(judged.joint.recovery) : null,
    recovery_by_size: bySizeOf(mine.input.input),
    spikes: counted.runs.flatMap(({ run, recovered }) =>
      run.spike && recovered !== null
        ? [
            {
              run: run.id,
              name: run.name,
              found: recovered,
              added: run.spike.added,
              serves: mine.input.spikes.includes(run.id),
            },
          ]
        : [],
    ),
    history: counted.history.map((batch) => ({
      study: batch.study,
      kind: batch.kind,
      serves: batch.kind === mine.input.background,
      runs: batch.runs.map((run) => ({
        name: run.name,
        count: run.count,
        stands_for: run.passed * run.examined,
      })),
    })),
  });
}

const balanceJson = ({
  runs,
  notWeighed,
  shedUg,
  lossUg: { value, uncertainty },
  found,
}: BalancedMass): NonNullable<ClaimDetailsJson['mass_balance']> => ({
  runs: [...runs],
  not_weighed: [...notWeighed],
  shed_ug: intervalJson(shedUg),
  loss_ug: { value, lower: value - 2 * uncertainty, upper: value + 2 * uncertainty },
  verdict: found.verdict,
  share: found.share,
  message: found.message,
});

const bySizeOf = ({ strata, confidence }: CountingInput): ClaimDetailsJson['recovery_by_size'] =>
  (strata ?? []).map(({ name, spikes, specimens, controls }) => {
    const found = spikes.reduce((sum, spike) => sum + spike.found, 0);
    const added = spikes.reduce((sum, spike) => sum + spike.added, 0);
    return {
      name,
      found,
      added,
      recovery: intervalJson(clopperPearsonInterval(found, added, confidence)),
      on_specimens: specimens,
      on_controls: controls,
    };
  });

/** The few that are shown, without sorting tens of thousands; of two alike the first comes first. */
export function largest(pieces: readonly CountedPiece[]): readonly CountedPiece[] {
  const out: CountedPiece[] = [];
  const size = (piece: CountedPiece): number => piece.particle.feretMaxUm!;
  for (const piece of pieces) {
    if (out.length === MOST_PIECES && size(piece) <= size(out[MOST_PIECES - 1]!)) continue;
    const at = out.findIndex((other) => size(other) < size(piece));
    out.splice(at < 0 ? out.length : at, 0, piece);
    out.length = Math.min(out.length, MOST_PIECES);
  }
  return out;
}

function categoryJson(
  { filterOf }: ClaimDetails,
  row: Omit<CategoryRow, 'pieces'>,
  pieces: CategoryRow['pieces'],
): CategoryJson {
  const refs = (of: readonly CountedPiece[]): PieceRefJson[] =>
    largest(of).map((piece) => ({
      particle: piece.particle.id,
      photo: piece.photo,
      filter: filterOf.get(piece.photo) ?? null,
      run: piece.run,
      number: piece.particle.number,
      size_um: sizeOf(piece).sizeUm,
      decided: piece.particle.standing === 'kept',
    }));
  return {
    path: [...row.path],
    cells: row.cells.map((cell) => [...cell]),
    specimens: row.specimens,
    controls: row.controls,
    expected: row.expected,
    net: row.net,
    net_per_gram: intervalJson(row.perGram),
    negative: row.negative,
    on_specimens: refs(pieces.specimens),
    on_controls: refs(pieces.controls),
  };
}

function lookedOf({ counted, mine }: ClaimDetails): LookedJson[] {
  const { input, serving } = mine.input;
  const portions = new Set(input.portions.map((portion) => portion.name));
  return counted.runs.map((run): LookedJson => {
    const { kind, id, name } = run.run;
    const side =
      kind === 'specimen' && portions.has(name)
        ? 'specimens'
        : serving.includes(id)
          ? 'controls'
          : kind === 'spiked-run'
            ? 'spiked'
            : 'aside';
    const looked = run.count !== null;
    return {
      run: id,
      name,
      kind: runKind(kind),
      side,
      passed: looked ? run.passed : null,
      examined: looked ? run.examined : null,
      stands_for: looked && run.examined !== null ? (run.passed ?? 1) * run.examined : null,
      uncertainty: looked ? run.extent : null,
      count: countJson(run),
      kept: run.kept,
      undecided: run.unmarked,
      dropped: run.dropped,
      floor_um: run.floorUm,
      filters: run.filters.map((filter) => filter.id),
    };
  });
}
