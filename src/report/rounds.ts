import type { PopulationTest } from '../science/evidence/index.ts';
import type { FieldsAgreement, RoundAgreement, RoundDeed, RoundOf, ScorerOutcome } from '../study/index.ts';

/** A blinded round as a report tells it. */
export interface ReportRound {
  readonly name: string;
  readonly what: RoundOf;
  readonly sealedBy: string;
  readonly sealedAt: string;
  /** SHA-256 of the key. */
  readonly keyHash: string;
  /** False where the study was packed while the round was sealed: the key stayed elsewhere. */
  readonly keyIsHere: boolean;
  readonly scorers: readonly { readonly name: string; readonly locked: boolean }[];
  readonly third: string | null;
  readonly events: readonly {
    readonly deed: RoundDeed;
    readonly says: string;
    readonly by: string;
    readonly at: string;
  }[];
  /** What the key showed; null while it is sealed. */
  readonly opened: {
    readonly pictures: number;
    /** Known pieces among them. */
    readonly slippedIn: number;
    readonly sides: readonly {
      readonly side: 'specimen' | 'control';
      readonly plastic: number;
      readonly other: number;
      readonly undecided: number;
    }[];
    readonly agreement: RoundAgreement | null;
    readonly fields: FieldsAgreement | null;
    readonly scorers: readonly (ScorerOutcome & { readonly name: string })[];
    readonly populations: readonly PopulationTest[] | null;
  } | null;
}
