/** What the deeds need from outside, and nothing else: records, photo files, the finding crew, time, chance, names. */

import type { Finding, FindWish, Point } from '../science/imaging/finding.ts';
import type { Completeness } from '../science/imaging/index.ts';
import type { Id, Instant, PhotoFormat, Sha256 } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import type { Desk, Look } from './ledgers.ts';

export type { Desk, Look } from './ledgers.ts';

/**
 * The records, changed only in whole transactions.
 * `change` resolves after the transaction is durable (acknowledged); when `work` throws or gives a refused Outcome,
 * nothing of it remains. `look` sees one moment and cannot write.
 */
export interface Records {
  look<T>(work: (look: Look) => Promise<T>): Promise<T>;
  change<T>(work: (desk: Desk) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

/** Where an original comes from; a stream is read once and never held whole in memory. */
export type PhotoSource =
  | { readonly bytes: Uint8Array }
  | { readonly path: string }
  | { readonly stream: AsyncIterable<Uint8Array> };

/** An original taken in but not yet kept: `path` can be read, then either `keep` or `discard` ends it. */
export interface PhotoTakenIn {
  readonly sha256: Sha256;
  readonly bytes: number;
  readonly path: string;
  /** True when an original with this content is already kept. */
  readonly known: boolean;
  /** Durable when it resolves. */
  keep(): Promise<void>;
  discard(): Promise<void>;
}

export type FileState = 'sound' | 'missing' | 'changed';

/** Originals by the hash of their content; written once, never changed. */
export interface PhotoFiles {
  /** Throws when the disk refuses; what was half written is removed. Refuses nothing by content: that is PhotoWork's part. */
  takeIn(source: PhotoSource, mostBytes?: number): Promise<Outcome<PhotoTakenIn>>;
  /** Gives `use` a file that can be read while it runs. */
  withFile<T>(sha256: Sha256, use: (path: string) => Promise<T>): Promise<T>;
  verify(sha256: Sha256): Promise<FileState>;
  list(): Promise<readonly Sha256[]>;
}

/** What a decoder knows from a photograph's head, checked to be readable as a picture. */
export interface PhotoFacts {
  readonly format: PhotoFormat;
  /** Of the upright picture. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** EXIF orientation, 1 to 8. */
  readonly orientation: number;
}

/** Decoding and finding, on this machine's cores or elsewhere. */
export interface PhotoWork {
  /** Method and version of its Finder: with photo hash and wish they name a finding. */
  readonly method: string;
  readonly version: string;
  /** Refuses what is no sound photograph (truncated, empty, another format, too large), in a sentence that names the file. */
  inspect(path: string, name: string): Promise<Outcome<PhotoFacts>>;
  /** Refusals inside the Finding (no scale, not a filter …) are findings; a refused Outcome means the file can't be read. */
  find(
    photo: { readonly path: string; readonly name: string; readonly sha256: string },
    wish: FindWish,
    progress?: (share: number) => void,
  ): Promise<Outcome<Finding>>;
  /**
   * Draws known pieces into these photographs and tells which are found again. Refuses photographs without scale or free
   * place; ends without a result when `stopped` resolves.
   */
  completeness(
    photos: readonly { readonly path: string; readonly name: string }[],
    wish: FindWish,
    told: (done: number, of: number) => void,
    stopped?: Promise<unknown>,
  ): Promise<Outcome<Completeness>>;
  /** CIELAB inside an outline on the upright photo, against the membrane around it; refuses an outline off the photo. */
  colourInside(
    path: string,
    name: string,
    outline: readonly Point[],
  ): Promise<Outcome<readonly [L: number, a: number, b: number]>>;
  close(): Promise<void>;
}

export interface Clock {
  now(): Instant;
}

/** Seeded where the result must be made again. */
export interface Chance {
  /** From 0 to below 1. */
  next(): number;
}

/** Fresh identities (UUID version 7, so that they sort by age). */
export interface Names {
  next<K extends string>(): Id<K>;
}

/** All of them together: what a door hands to a deed. */
export interface Tools {
  readonly records: Records;
  readonly files: PhotoFiles;
  readonly work: PhotoWork;
  readonly clock: Clock;
  readonly names: Names;
}
