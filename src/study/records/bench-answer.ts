import type { ParticleId } from './found.ts';
import type { PersonId } from './laboratory.ts';
import type { PhotoFormat, Sha256 } from './photo.ts';
import {
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  maker,
  number,
  oneOf,
  orNull,
  type Rule,
  record,
  text,
} from './rules.ts';
import type { StudyId } from './study.ts';

export type BenchAnswerId = Id<'bench-answer'>;
export type TestPictureId = Id<'test-picture'>;

/** What a bench test ended with on one particle. Taken back by an `EvidenceUndo`. */
export interface BenchAnswer {
  readonly id: BenchAnswerId;
  readonly study: StudyId;
  readonly particle: ParticleId;
  readonly test: string;
  /** Of the test's declaration. */
  readonly edition: number;
  readonly answer: { readonly value: string | number; readonly setting: string | null };
  /** Answered at the bench, or brought in as a table from elsewhere. */
  readonly origin: 'bench' | 'table';
  /** Outside the range where the test holds: kept, and counts as not tested. The reason in words; null: inside. */
  readonly outside: string | null;
  readonly before: TestPictureId | null;
  readonly after: TestPictureId | null;
  readonly note: string;
  readonly by: PersonId;
  readonly at: Instant;
}

const aValue: Rule = (value, what) =>
  typeof value === 'number' && Number.isFinite(value) ? null : text(1, 120)(value, what);

export const makeBenchAnswer = maker<BenchAnswer>('bench test', {
  id: anId,
  study: anId,
  particle: anId,
  test: text(1, 60),
  edition: number({ from: 1, whole: true }),
  answer: record<BenchAnswer['answer']>({ value: aValue, setting: orNull(text(1, 60)) }),
  origin: oneOf(['bench', 'table']),
  outside: orNull(text(1, 400)),
  before: orNull(anId),
  after: orNull(anId),
  note: aNote,
  by: anId,
  at: anInstant,
});

/** A picture taken while a particle was tested; the original is kept as every photograph's is. */
export interface TestPicture {
  readonly id: TestPictureId;
  readonly study: StudyId;
  readonly particle: ParticleId;
  readonly sha256: Sha256;
  readonly name: string;
  readonly bytes: number;
  readonly format: PhotoFormat;
  readonly by: PersonId;
  readonly at: Instant;
}

/** Takes back a bench answer, a drill answer or an undo itself. */
export interface EvidenceUndo {
  readonly id: Id<'evidence-undo'>;
  readonly study: StudyId;
  readonly undoes: string;
  readonly by: PersonId;
  readonly at: Instant;
}

export const makeEvidenceUndo = maker<EvidenceUndo>('undo', {
  id: anId,
  study: anId,
  undoes: anId,
  by: anId,
  at: anInstant,
});
