/** Everything a report is made of, gathered in one moment; from here on nothing is looked up. */
import type { BandedNet, Interval, Judgement, MassEstimate, Robustness } from '../science/counting/index.ts';
import type { Colour, Shape } from '../science/imaging/finding.ts';
import type {
  BalancedMass,
  Categories,
  Checklist,
  Claim,
  ClaimFacts,
  CoverageGap,
  Extent,
  FalseFindsAsked,
  HeldAgainst,
  HeldBack,
  OtherQuestion,
  PublishedScore,
  PublishedValue,
  RunKind,
  Specimen,
  Step,
  Study,
  StudyInput,
} from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import type { CoverageGrade } from './charts/index.ts';
import type { ReportRound } from './rounds.ts';

export interface ReportFacts {
  readonly laboratory: string;
  /** Name and version of the program. */
  readonly program: string;
  readonly madeAt: string;
  readonly study: Study;
  /** Sizes counted from here on. */
  readonly sizeFromUm: number;
  /** How photographs were searched, and what that gave on the study's own controls. */
  readonly falseFinds: readonly FalseFindsAsked[];
  readonly specimens: readonly ReportSpecimen[];
  readonly heldBack: readonly HeldBack[];
  /** The claim under every defensible choice; null where nothing was judged. */
  readonly robustness: Robustness | null;
  /** What else lies behind the claim on the product; null where nothing was judged. */
  readonly behind: ReportBehind | null;
  /** Published values that the study is held against, with who said so. */
  readonly published: readonly (HeldAgainst & { readonly value: PublishedValue; readonly by: string })[];
  readonly evidence: ReportEvidence;
  /** Blinded rounds, oldest first. */
  readonly rounds: readonly ReportRound[];
  readonly checklist: Checklist;
  readonly scores: readonly PublishedScore[];
  readonly runs: readonly ReportRun[];
  readonly coverage: readonly ReportCoverage[];
  readonly procedures: readonly ReportProcedure[];
  readonly deviations: readonly ReportDeviation[];
  /** Runs, portions and procedures withdrawn or put back, as it was recorded. */
  readonly withdrawals: readonly ReportWithdrawal[];
  /** Photographs that were moved or set aside, as it was recorded. */
  readonly moves: readonly PhotoMoved[];
  readonly photos: readonly ReportPhoto[];
  /** Every piece that was found or drawn and not replaced. */
  readonly pieces: readonly ReportPiece[];
  /** Some of them as pictures. */
  readonly pictures: readonly PiecePicture[];
}

/** The pieces of the product's claim sorted, weighed and asked other questions, and the controls before it. */
export interface ReportBehind {
  readonly categories: Outcome<Categories>;
  readonly sizes: Outcome<readonly BandedNet[]>;
  readonly mass: Outcome<MassEstimate>;
  readonly balance: Outcome<BalancedMass>;
  readonly comparisons: readonly OtherQuestion[];
  readonly history: readonly {
    readonly study: string;
    readonly kind: RunKind;
    /** Whether it tells how much the controls of this claim scatter. */
    readonly serves: boolean;
    readonly runs: readonly {
      readonly name: string;
      readonly count: number;
      readonly passed: number;
      readonly examined: number;
    }[];
  }[];
}

/** What is known of how well pieces are told. */
export interface ReportEvidence {
  /** The scorer on known pieces, by test. */
  readonly drills: readonly {
    readonly test: string;
    readonly plastic: { readonly k: number; readonly n: number; readonly rate: Interval | null };
    readonly others: { readonly k: number; readonly n: number; readonly rate: Interval | null };
  }[];
  /** Random parts that were put to another test. */
  readonly confirmed: readonly {
    readonly test: string;
    readonly side: 'specimens' | 'controls';
    readonly tested: number;
    readonly passed: number;
    readonly share: Interval;
  }[];
}

export interface ReportSpecimen {
  readonly specimen: Specimen;
  readonly claim: Claim;
  readonly judged: Judgement | null;
  readonly input: StudyInput;
  readonly facts: ClaimFacts;
}

export interface ReportRun {
  readonly id: string;
  readonly name: string;
  readonly kind: RunKind;
  readonly day: string;
  readonly operator: string;
  readonly specimen: string | null;
  readonly massG: number | null;
  readonly massIs: string | null;
  readonly edition: string | null;
  /** Shares; null: not recorded, or nothing was looked at. */
  readonly passed: number | null;
  readonly examined: number | null;
  /** How well both are known; null: not looked. */
  readonly extent: Extent | null;
  /** Null: not looked. */
  readonly count: number | null;
  readonly kept: number;
  readonly unmarked: number;
  readonly dropped: number;
  readonly floorUm: number | null;
  readonly added: number | null;
  readonly recovered: number | null;
  /** Part of the background of the product's claim. */
  readonly inBackground: boolean;
  /** A specimen run that no control matches. */
  readonly leftOut: boolean;
  readonly note: string;
  readonly filters: readonly ReportFilter[];
  readonly fractions: readonly ReportFraction[];
}

export interface ReportFilter {
  readonly id: string;
  readonly name: string;
  readonly material: string;
  readonly poreUm: number;
  readonly diameterMm: number;
  readonly pitchMm: number | null;
  readonly lot: string;
  /** Null: not looked. */
  readonly count: number | null;
  readonly photos: number;
  readonly searched: number;
  readonly searchedMm2: number;
}

export interface ReportFraction {
  readonly kind: string;
  readonly volumeMl: number;
  readonly place: string;
  readonly fate: string;
  readonly note: string;
}

export interface ReportWithdrawal {
  readonly at: string;
  readonly what: 'run' | 'portion' | 'procedure';
  readonly name: string;
  /** False: put back. */
  readonly withdrawn: boolean;
  readonly why: string;
  /** What it counted could be read then. */
  readonly countOpen: boolean;
  /** Of a run that is withdrawn now: what it counts, in no other figure; null: not looked at, or no such run. */
  readonly counted: number | null;
  readonly by: string;
}

export interface PhotoMoved {
  readonly at: string;
  readonly photo: string;
  /** Name of the filter it shows; null: set aside. */
  readonly to: string | null;
  readonly why: string;
  readonly by: string;
}

export interface ReportDeviation {
  readonly at: string;
  readonly runs: readonly string[];
  readonly kind: string;
  readonly step: string | null;
  readonly what: string;
  readonly why: string;
}

export interface ReportProcedure {
  readonly name: string;
  readonly number: number;
  readonly because: string;
  readonly steps: readonly Step[];
  readonly runs: readonly string[];
  /** Kinds of run that followed it. */
  readonly kinds: readonly RunKind[];
}

export interface ReportCoverage {
  readonly runs: readonly string[];
  readonly judged: boolean;
  readonly sentence: string;
  readonly steps: readonly string[];
  readonly threads: readonly {
    readonly control: string;
    readonly grades: readonly CoverageGrade[];
    readonly serves: boolean;
    readonly changes: readonly string[];
  }[];
  readonly open: readonly CoverageGap['leavesOpen'][];
}

export interface ReportPhoto {
  readonly name: string;
  readonly run: string;
  readonly filter: string;
  readonly sha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly umPerPx: number | null;
  readonly floorUm: number | null;
  readonly refusal: string | null;
  readonly method: string | null;
}

export interface ReportPiece {
  readonly id: string;
  readonly run: string;
  readonly filter: string;
  readonly photo: string;
  readonly number: number;
  /** Null: the photograph has no scale. */
  readonly feretMaxUm: number | null;
  readonly feretMinUm: number | null;
  readonly areaUm2: number | null;
  readonly shape: Shape;
  readonly colour: Colour;
  readonly standing: 'unmarked' | 'kept' | 'dropped';
}

export interface PiecePicture {
  readonly piece: ReportPiece;
  /** A data: address of a JPEG. */
  readonly image: string;
  /** What its width shows. */
  readonly widthUm: number;
}

/** Whether a piece is in the count of its run, as question and optics say. The one rule, for the report and its reader. */
export function pieceCounts(
  piece: Pick<ReportPiece, 'feretMaxUm' | 'shape' | 'colour' | 'standing'>,
  scope: CountScope,
): boolean {
  const size = piece.feretMaxUm;
  return (
    piece.standing !== 'dropped' &&
    size !== null &&
    size >= scope.sizeFromUm &&
    (scope.sizeToUm === null || size < scope.sizeToUm) &&
    (scope.shapes.length === 0 || scope.shapes.includes(piece.shape)) &&
    (scope.colours.length === 0 || scope.colours.includes(piece.colour))
  );
}

export interface CountScope {
  readonly sizeFromUm: number;
  readonly sizeToUm: number | null;
  readonly shapes: readonly Shape[];
  readonly colours: readonly Colour[];
}

export const scopeOf = ({
  study: { question },
  sizeFromUm,
}: Pick<ReportFacts, 'study' | 'sizeFromUm'>): CountScope => ({
  sizeFromUm,
  sizeToUm: question.sizeToUm,
  shapes: question.shapes,
  colours: question.colours,
});
