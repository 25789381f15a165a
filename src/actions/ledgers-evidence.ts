/** Shelves of the evidence. All of it is only ever added; what was wrong is undone by a further record. */
import type {
  BenchAnswer,
  BenchAnswerId,
  BlindRound,
  Confirmation,
  ConfirmationId,
  DrillAnswer,
  DrillAnswerId,
  EvidenceUndo,
  KnownSet,
  KnownSetId,
  ParticleId,
  Reading,
  RoundEvent,
  RoundId,
  Sha256,
  StudyId,
  TestPicture,
  TestPictureId,
} from '../study/index.ts';

/** Lists are in the order in which things were written. */
export interface LookAtEvidence {
  readonly testPictures: {
    get(id: TestPictureId): Promise<TestPicture | null>;
    hashes(): Promise<readonly Sha256[]>;
  };
  readonly benchAnswers: {
    get(id: BenchAnswerId): Promise<BenchAnswer | null>;
    ofStudy(study: StudyId): Promise<readonly BenchAnswer[]>;
    ofParticle(particle: ParticleId): Promise<readonly BenchAnswer[]>;
  };
  readonly knownSets: {
    get(id: KnownSetId): Promise<KnownSet | null>;
    ofStudy(study: StudyId): Promise<readonly KnownSet[]>;
  };
  readonly drillAnswers: {
    get(id: DrillAnswerId): Promise<DrillAnswer | null>;
    ofStudy(study: StudyId): Promise<readonly DrillAnswer[]>;
  };
  readonly evidenceUndos: { ofStudy(study: StudyId): Promise<readonly EvidenceUndo[]> };
  readonly confirmations: {
    get(id: ConfirmationId): Promise<Confirmation | null>;
    ofStudy(study: StudyId): Promise<readonly Confirmation[]>;
  };
  readonly rounds: {
    get(id: RoundId): Promise<BlindRound | null>;
    ofStudy(study: StudyId): Promise<readonly BlindRound[]>;
  };
  readonly readings: { ofRound(round: RoundId): Promise<readonly Reading[]> };
  readonly roundEvents: { ofRound(round: RoundId): Promise<readonly RoundEvent[]> };
}

export interface WriteEvidence {
  readonly testPictures: LookAtEvidence['testPictures'] & { add(record: TestPicture): Promise<void> };
  readonly benchAnswers: LookAtEvidence['benchAnswers'] & { add(record: BenchAnswer): Promise<void> };
  readonly knownSets: LookAtEvidence['knownSets'] & { add(record: KnownSet): Promise<void> };
  readonly drillAnswers: LookAtEvidence['drillAnswers'] & {
    add(records: readonly DrillAnswer[]): Promise<void>;
  };
  readonly evidenceUndos: LookAtEvidence['evidenceUndos'] & { add(record: EvidenceUndo): Promise<void> };
  readonly confirmations: LookAtEvidence['confirmations'] & { add(record: Confirmation): Promise<void> };
  readonly rounds: LookAtEvidence['rounds'] & { add(record: BlindRound): Promise<void> };
  readonly readings: LookAtEvidence['readings'] & { add(record: Reading): Promise<void> };
  readonly roundEvents: LookAtEvidence['roundEvents'] & { add(record: RoundEvent): Promise<void> };
}
