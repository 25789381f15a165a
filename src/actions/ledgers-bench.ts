/** Shelves of the bench. */
import type {
  Id,
  PhotoMove,
  PhotoPlace,
  RunId,
  RunOrder,
  SetupPhoto,
  Sha256,
  StudyId,
  Tap,
  TapId,
  Withdrawal,
  WithdrawalWord,
} from '../study/index.ts';

export interface LookAtBench {
  readonly taps: {
    get(id: TapId): Promise<Tap | null>;
    byNumber(device: string, number: number): Promise<Tap | null>;
    /** In the order in which they were taken in. */
    ofRun(run: RunId): Promise<readonly Tap[]>;
    ofStudy(study: StudyId): Promise<readonly Tap[]>;
  };
  readonly withdrawals: {
    of(subject: string): Promise<Withdrawal | null>;
    ofStudy(study: StudyId): Promise<readonly Withdrawal[]>;
  };
  readonly runOrders: { newest(study: StudyId): Promise<RunOrder | null> };
  /** The latest word on each photograph. */
  readonly photoPlaces: { ofStudy(study: StudyId): Promise<readonly PhotoPlace[]> };
  /** With the photographs' names, in the order in which they were taken in. */
  readonly photoMoves: {
    ofStudy(study: StudyId): Promise<readonly (PhotoMove & { readonly name: string })[]>;
  };
  /** On runs, portions and procedures: all that was said, in that order. */
  readonly withdrawalWords: { ofStudy(study: StudyId): Promise<readonly WithdrawalWord[]> };
  readonly setupPhotos: {
    get(id: Id<'setup-photo'>): Promise<SetupPhoto | null>;
    ofRun(run: RunId): Promise<readonly SetupPhoto[]>;
    hashes(): Promise<readonly Sha256[]>;
  };
}

export interface WriteAtBench {
  readonly taps: LookAtBench['taps'] & { add(tap: Tap): Promise<void> };
  readonly withdrawals: LookAtBench['withdrawals'] & { add(record: Withdrawal): Promise<void> };
  readonly runOrders: LookAtBench['runOrders'] & { add(record: RunOrder): Promise<void> };
  readonly photoPlaces: LookAtBench['photoPlaces'] & { add(record: PhotoPlace): Promise<void> };
  readonly photoMoves: LookAtBench['photoMoves'] & { add(record: PhotoMove): Promise<void> };
  readonly withdrawalWords: LookAtBench['withdrawalWords'] & { add(record: WithdrawalWord): Promise<void> };
  readonly setupPhotos: LookAtBench['setupPhotos'] & { add(record: SetupPhoto): Promise<void> };
}
