/** The shelves that records stand on. `Look` reads; `Desk` also writes, inside the transaction that gave it. */
import type {
  ClaimSnapshot,
  ComparisonRules,
  Deviation,
  Edition,
  Filter,
  FilterId,
  FindingId,
  FindingRecord,
  Id,
  Instant,
  Joining,
  Json,
  Laboratory,
  Mark,
  MarkId,
  Measure,
  Measured,
  MeasuredCompleteness,
  MeasuredFalseFinds,
  Optics,
  OwnStepKind,
  ParticleId,
  ParticleRecord,
  Person,
  PersonId,
  Photo,
  PhotoId,
  Plan,
  Portion,
  Procedure,
  ProcedureId,
  PublishedValue,
  Run,
  RunFraction,
  RunId,
  SearchSettings,
  Sha256,
  Specimen,
  SpecimenId,
  SquaresSeen,
  Study,
  StudyId,
  Weighing,
} from '../study/index.ts';
import type { LookAtBench, WriteAtBench } from './ledgers-bench.ts';
import type { LookAtEvidence, WriteEvidence } from './ledgers-evidence.ts';
import type { LookAtGroups, WriteAtGroups } from './ledgers-groups.ts';
import type { LookAtSpectra, WriteSpectra } from './ledgers-spectra.ts';

export interface Reading<T, K extends string> {
  get(id: Id<K>): Promise<T | null>;
  ofStudy(study: StudyId): Promise<readonly T[]>;
}
/** `ofStudy` lists what counts or is in use; what was withdrawn stands beside it. */
export interface ReadingReturning<T, K extends string> extends Reading<T, K> {
  withdrawnOfStudy(study: StudyId): Promise<readonly T[]>;
}
export interface Adding<T> {
  add(record: T): Promise<void>;
}

/** Sizes in scope: from ≤ maximum Feret diameter < to. Empty lists: all. */
export interface Scope {
  readonly sizeFromUm: number;
  readonly sizeToUm: number | null;
  readonly shapes: readonly string[];
  readonly colours: readonly string[];
}

/** What was looked at and found on one filter, from the newest finding of each of its photos. */
export interface FilterCount {
  readonly filter: FilterId;
  readonly run: RunId;
  readonly photos: number;
  /** Photos searched with a scale and not refused. */
  readonly searched: number;
  readonly searchedMm2: number;
  /** The coarsest floor of its searched photos, µm; null where none was searched. */
  readonly floorUm: number | null;
  /** In scope: kept and not yet marked. Null where nothing was searched: not looked is not none seen. */
  readonly count: number | null;
  readonly kept: number;
  readonly unmarked: number;
  readonly dropped: number;
  /** In scope, and counted on another photograph of the filter. */
  readonly again: number;
  /** How the counted pieces lie over the printed squares; null: nothing was searched. */
  readonly squares: SquaresSeen | null;
  /** Relative standard uncertainty of the scale, the worst of its searched photos; null: none has one. */
  readonly scaleUncertainty: number | null;
}

/** One line of the journal: what was changed, from what, by whom. */
export interface JournalLine {
  readonly at: Instant;
  readonly by: PersonId | null;
  readonly deed: string;
  readonly subject: string;
  readonly facts: Json;
}

export interface PhotoLine extends Photo {
  /** The newest finding, if there is one. */
  readonly finding: FindingId | null;
  readonly refusal: FindingRecord['refusal'];
  readonly particles: number;
  readonly kept: number;
  readonly dropped: number;
  readonly unmarked: number;
}

export interface Look extends LookAtBench, LookAtEvidence, LookAtGroups, LookAtSpectra {
  readonly laboratory: { get(): Promise<Laboratory> };
  readonly people: { get(id: PersonId): Promise<Person | null>; list(): Promise<readonly Person[]> };
  readonly studies: { get(id: StudyId): Promise<Study | null>; list(): Promise<readonly Study[]> };
  readonly specimens: Reading<Specimen, 'specimen'>;
  readonly portions: ReadingReturning<Portion, 'portion'>;
  readonly procedures: ReadingReturning<Procedure, 'procedure'>;
  readonly editions: Reading<Edition, 'edition'> & {
    latest(procedure: ProcedureId): Promise<Edition | null>;
  };
  /** Kinds of step that the laboratory declared, oldest first. */
  readonly stepKinds: { list(): Promise<readonly OwnStepKind[]> };
  /** The newest stands. */
  readonly plans: { newest(study: StudyId): Promise<Plan | null> };
  readonly comparisonRules: { newest(study: StudyId): Promise<ComparisonRules | null> };
  readonly runs: ReadingReturning<Run, 'run'>;
  readonly deviations: Reading<Deviation, 'deviation'>;
  readonly fractions: Reading<RunFraction, 'fraction'>;
  readonly optics: Reading<Optics, 'optics'>;
  readonly filters: Reading<Filter, 'filter'>;
  readonly photos: Reading<Photo, 'photo'> & {
    bySha256(sha256: Sha256): Promise<Photo | null>;
    /** Oldest first. */
    ofFilter(filter: FilterId): Promise<readonly Photo[]>;
    linesOfStudy(study: StudyId): Promise<readonly PhotoLine[]>;
    /** Those set aside and those of withdrawn runs too. */
    everOfStudy(study: StudyId): Promise<readonly Photo[]>;
    hashes(): Promise<readonly Sha256[]>;
  };
  readonly findings: {
    get(id: FindingId): Promise<FindingRecord | null>;
    newest(photo: PhotoId): Promise<FindingRecord | null>;
    /** The newest of each of these photos, where there is one. */
    newestOf(photos: readonly PhotoId[]): Promise<ReadonlyMap<PhotoId, FindingRecord>>;
    /** The newest of each photo. */
    newestOfStudy(study: StudyId): Promise<readonly FindingRecord[]>;
    /** Oldest first. */
    ofPhoto(photo: PhotoId): Promise<readonly FindingRecord[]>;
    same(photo: PhotoId, method: string, version: string, wishKey: string): Promise<FindingRecord | null>;
  };
  readonly particles: {
    get(id: ParticleId): Promise<ParticleRecord | null>;
    /** Those that there are, in the order of their numbers. */
    some(ids: readonly ParticleId[]): Promise<readonly ParticleRecord[]>;
    /** In the order of their numbers; replaced ones too. */
    ofFinding(finding: FindingId): Promise<readonly ParticleRecord[]>;
    /** The same of several findings, with one measure or more of each. */
    measured<M extends Measure>(
      findings: readonly FindingId[],
      measures: readonly [M, ...M[]],
    ): Promise<ReadonlyMap<FindingId, readonly Measured<M>[]>>;
    /** The pieces that a split, merge or redraw made. */
    drawnBy(mark: MarkId): Promise<readonly ParticleRecord[]>;
    countOf(finding: FindingId): Promise<number>;
  };
  /** How the photographs of a filter lie together. */
  readonly joinings: {
    newest(filter: FilterId): Promise<Joining | null>;
    /** The newest of each filter. */
    ofStudy(study: StudyId): Promise<readonly Joining[]>;
  };
  readonly searchSettings: { newest(study: StudyId): Promise<SearchSettings | null> };
  readonly completeness: { newest(study: StudyId): Promise<MeasuredCompleteness | null> };
  readonly falseFinds: { newest(study: StudyId): Promise<MeasuredFalseFinds | null> };
  readonly marks: {
    get(id: MarkId): Promise<Mark | null>;
    /** All that touch any of these; oldest first, undone ones and their undoing too. */
    touching(particles: readonly ParticleId[]): Promise<readonly Mark[]>;
    ofPhoto(photo: PhotoId): Promise<readonly Mark[]>;
    /** These marks and all undoings on their photo, which tell whether they are in force; oldest first. */
    withUndoings(photo: PhotoId, marks: readonly MarkId[]): Promise<readonly Mark[]>;
    /** Newest first, older than `before` where it is given. */
    newest(study: StudyId, most: number, before: MarkId | null): Promise<readonly Mark[]>;
  };
  readonly counts: {
    ofStudy(study: StudyId, scope: Scope): Promise<readonly FilterCount[]>;
    /** The same for the filters of some runs, of whatever studies. */
    ofRuns(runs: readonly RunId[], scope: Scope): Promise<readonly FilterCount[]>;
    /** The coarsest floor of any photo looked at, µm; null: none was. The same as the greatest `floorUm` of `ofStudy`. */
    floorOfStudy(study: StudyId): Promise<number | null>;
  };
  readonly claims: {
    ofStudy(study: StudyId): Promise<readonly ClaimSnapshot[]>;
    newest(specimen: SpecimenId): Promise<ClaimSnapshot | null>;
  };
  readonly publishedValues: {
    /** All editions of all entries, oldest first. */
    ofStudy(study: StudyId): Promise<readonly PublishedValue[]>;
  };
  /** Products weighed before and after their runs, oldest first, those taken back too. */
  readonly weighings: { ofStudy(study: StudyId): Promise<readonly Weighing[]> };
  readonly journal: {
    newest(most: number): Promise<readonly JournalLine[]>;
    /** Newest first, of these deeds alone. */
    ofDeeds(deeds: readonly string[], most: number): Promise<readonly JournalLine[]>;
  };
}

export interface Desk
  extends Omit<Look, keyof LookAtBench | keyof LookAtEvidence | keyof LookAtGroups | keyof LookAtSpectra>,
    WriteAtGroups,
    WriteAtBench,
    WriteEvidence,
    WriteSpectra {
  readonly laboratory: Look['laboratory'] & { rename(name: string): Promise<void> };
  readonly people: Look['people'] & Adding<Person>;
  readonly studies: Look['studies'] & Adding<Study> & { changeQuestion(study: Study): Promise<void> };
  readonly specimens: Look['specimens'] & Adding<Specimen>;
  readonly portions: Look['portions'] & Adding<Portion>;
  readonly procedures: Look['procedures'] & Adding<Procedure>;
  readonly editions: Look['editions'] & Adding<Edition>;
  readonly runs: Look['runs'] & Adding<Run> & { putInOrder(runs: readonly RunId[]): Promise<void> };
  readonly stepKinds: Look['stepKinds'] & Adding<OwnStepKind>;
  readonly plans: Look['plans'] & Adding<Plan>;
  readonly comparisonRules: Look['comparisonRules'] & Adding<ComparisonRules>;
  readonly deviations: Look['deviations'] & Adding<Deviation>;
  readonly fractions: Look['fractions'] & Adding<RunFraction>;
  readonly optics: Look['optics'] & Adding<Optics>;
  readonly filters: Look['filters'] & Adding<Filter>;
  readonly photos: Look['photos'] & Adding<Photo>;
  readonly findings: Look['findings'] & {
    add(finding: FindingRecord, wishKey: string, particles: readonly ParticleRecord[]): Promise<void>;
  };
  readonly particles: Look['particles'] & {
    add(particles: readonly ParticleRecord[]): Promise<void>;
    /** Of these findings' particles, the first of each pair counts on the second; all others count for themselves. */
    countOn(
      findings: readonly FindingId[],
      pairs: readonly (readonly [ParticleId, ParticleId])[],
    ): Promise<void>;
    /** Writes where it stands after a mark: the sum of its marks, kept beside them for speed. */
    settle(
      settled: readonly Pick<ParticleRecord, 'id' | 'standing' | 'shapeNow' | 'colourNow'>[],
    ): Promise<void>;
  };
  readonly joinings: Look['joinings'] & Adding<Joining>;
  readonly searchSettings: Look['searchSettings'] & Adding<SearchSettings>;
  readonly completeness: Look['completeness'] & Adding<MeasuredCompleteness>;
  readonly falseFinds: Look['falseFinds'] & Adding<MeasuredFalseFinds>;
  readonly marks: Look['marks'] & Adding<Mark>;
  readonly claims: Look['claims'] & Adding<ClaimSnapshot>;
  readonly publishedValues: Look['publishedValues'] & Adding<PublishedValue>;
  readonly weighings: Look['weighings'] & Adding<Weighing>;
  readonly journal: Look['journal'] & Adding<JournalLine>;
}
