import type { ClaimJson, CompletenessJson } from '../api/index.ts';
import type { Finding, FindWish } from '../science/imaging/finding.ts';
import type { RawSpectrum, Reference } from '../science/spectra/index.ts';
import type { Outcome, Refusal } from '../units/index.ts';

/** Where a command writes and how it is interrupted. Results go to `out`, everything about the work to `err`. */
export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Whether a person watches `err`: only then is a progress bar drawn. */
  readonly watched: boolean;
  /** Aborted by Ctrl-C. */
  readonly signal: AbortSignal;
}

/** Decoding and finding as the commands need them; main brings them in, and only when a command asks. */
export interface PhotoSearch {
  search(
    order: { readonly path: string; readonly name: string; readonly wish: FindWish },
    progress: (share: number) => void,
    signal: AbortSignal,
  ): Promise<Outcome<{ readonly finding: Finding; readonly widthPx: number; readonly heightPx: number }>>;
  /** SHA-256 of the file's bytes; null where it cannot be read. */
  sha256(path: string): Promise<string | null>;
  /** Writes the photograph with its particles outlined, as JPEG. */
  outline(path: string, finding: Finding, into: string): Promise<void>;
  /** Draws known pieces into control photographs and tells what share of them is found. */
  completeness(
    photos: readonly { readonly path: string; readonly name: string }[],
    wish: FindWish,
    told: (done: number, of: number) => void,
    signal: AbortSignal,
  ): Promise<Outcome<CompletenessJson>>;
  close(): Promise<void>;
}

/** A laboratory that is being served. */
export interface Opened {
  readonly address: string;
  readonly folder: string;
  readonly name: string;
  /** True when this opening made it. */
  readonly made: boolean;
  /** Where each study stands. */
  readonly studies: readonly { readonly study: string; readonly state: string; readonly sentence: string }[];
  close(): Promise<void>;
}

/** What `check` found. */
export interface Checked {
  readonly photos: number;
  readonly originals: number;
  readonly findings: number;
  readonly particles: number;
  readonly marks: number;
  readonly unnamed: readonly string[];
  readonly problems: readonly Refusal[];
}

export type DemoPhase = 'drawing' | 'searching';

/** The example laboratory, made; everything in it is invented. */
export interface DemoMade {
  readonly folder: string;
  readonly study: string;
  readonly specimen: string;
  readonly claim: ClaimJson;
}

/** What a report is to be. */
export interface ReportWish {
  /** Name or id; left out where the laboratory holds one study. */
  readonly study?: string;
  /** A name ending in .html, .pdf or .md; anything else is a folder for tables. */
  readonly out: string;
  /** Pictures of pieces for each run. */
  readonly pictures: number;
  readonly replace: boolean;
}

export interface ReportMade {
  readonly study: string;
  readonly out: string;
  readonly files: readonly string[];
  readonly state: string;
  readonly sentence: string;
}

/** Laboratory folders as the commands need them. */
export interface LaboratoryTools {
  /** Serves the laboratory, made when there is none; without a port the usual one, or the next that is free. */
  open(folder: string, port: number | undefined): Promise<Outcome<Opened>>;
  demo(
    folder: string,
    told: (phase: DemoPhase, done: number, of: number, name: string) => void,
  ): Promise<Outcome<DemoMade>>;
  /** A folder, or the address of a database with its originals. */
  check(
    place: string,
    originals: string | null,
    told: (done: number, of: number) => void,
  ): Promise<Outcome<Checked>>;
  report(folder: string, wish: ReportWish): Promise<Outcome<ReportMade>>;
}

/** Spectrum files as the commands need them. */
export interface SpectrumTools {
  /** The spectra that a path names: the file itself, or those of a folder, each with its name in the answer. */
  at(path: string): Promise<Outcome<readonly { readonly path: string; readonly name: string }[]>>;
  /** The spectra of a file, and SHA-256 of its bytes where it can be read at all. */
  read(path: string): Promise<{ readonly read: Outcome<RawSpectrum[]>; readonly sha256: string | null }>;
  /** Reference spectra of a folder; `leaveOut` are the files that are asked about. */
  references(
    folder: string,
    leaveOut: readonly string[],
  ): Promise<
    Outcome<{
      readonly references: readonly Reference[];
      readonly skipped: readonly { readonly name: string; readonly refusal: Refusal }[];
    }>
  >;
}

/** A group's server and workers as the commands need them. */
export interface GroupTools {
  serve(wish: {
    readonly database: string;
    readonly originals: string;
    readonly cache: string;
    readonly name: string;
    readonly port: number;
    readonly host: string;
    readonly site: string | null;
  }): Promise<
    Outcome<{
      readonly address: string;
      readonly name: string;
      readonly made: boolean;
      /** Code of the first owner's invitation; null when there is an owner. */
      readonly firstCode: string | null;
      close(): Promise<void>;
    }>
  >;
  work(wish: {
    readonly database: string;
    readonly originals: string;
    readonly cache: string;
    readonly atOnce: number;
    /** Cores that searching may use; null: all. */
    readonly cores: number | null;
    told(text: string): void;
  }): Promise<Outcome<{ readonly name: string; close(): Promise<void> }>>;
  /** A one-time code with which whoever signs in as `login` sets a new password, and until when it opens. */
  codeFor(wish: {
    readonly database: string;
    readonly originals: string;
    readonly login: string;
  }): Promise<Outcome<{ readonly code: string; readonly endsAt: string }>>;
}

/** Studies out to open formats and in. */
export interface ArchiveTools {
  pack(
    folder: string,
    study: string,
    out: string,
    told: (done: number, of: number) => void,
  ): Promise<
    Outcome<{
      readonly study: string;
      readonly tables: number;
      readonly rows: number;
      readonly originals: number;
      readonly files: number;
      /** Rounds whose key stayed behind because they are sealed. */
      readonly sealed: readonly string[];
    }>
  >;
  /** The laboratory is made when there is none; `as` is another name for the study. */
  unpack(
    file: string,
    folder: string,
    as: string | undefined,
    told: (done: number, of: number) => void,
  ): Promise<
    Outcome<{
      readonly study: string;
      readonly id: string;
      readonly rows: number;
      readonly originals: number;
      readonly sameClaim: boolean;
      readonly packedBy: string;
    }>
  >;
}

/** A laboratory as a whole, wherever it is, as the commands need it. */
export interface WholeTools {
  move(
    from: string,
    to: string,
    wish: {
      readonly originals?: string;
      readonly originalsTo?: string;
      readonly told: (done: number, of: number) => void;
    },
  ): Promise<Outcome<WholeCarried>>;
  backup(from: string, file: string, wish: WholeWish): Promise<Outcome<WholeCarried>>;
  restore(file: string, to: string, wish: WholeWish): Promise<Outcome<WholeCarried>>;
}
interface WholeWish {
  readonly originals?: string;
  readonly told: (done: number, of: number) => void;
}
interface WholeCarried {
  readonly tables: number;
  readonly rows: number;
  readonly originals: number;
}

/** What main lends to the commands. Each is fetched when it is first needed, so that `--help` stays quick. */
export interface CommandTools {
  readonly version: string;
  photoSearch(): Promise<PhotoSearch>;
  spectra(): Promise<SpectrumTools>;
  archives(): Promise<ArchiveTools>;
  group(): Promise<GroupTools>;
  whole(): Promise<WholeTools>;
  laboratory(): Promise<LaboratoryTools>;
}
