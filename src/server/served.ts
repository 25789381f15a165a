import type { PhotoJobs, Secrets, SpectrumWork, Tools, Unpacked } from '../actions/index.ts';
import type { Laboratory, PlanAsked, PlanReport } from '../study/index.ts';
import type { Outcome } from '../units/index.ts';
import type { Network } from './network/network.ts';

/** Tiles of photographs for looking closely; kept where main says. */
export interface PhotoTiles {
  tile(
    sha256: string,
    at: { readonly level: number; readonly column: number; readonly row: number },
    original: <T>(use: (path: string) => Promise<T>) => Promise<T>,
  ): Promise<Outcome<Uint8Array>>;
  /** A round cut for scoring without knowing, turned and evened, as JPEG. */
  blind(
    path: string,
    cut: {
      readonly centrePx: readonly [number, number];
      readonly widthPx: number;
      readonly turnDeg: number;
      readonly mirrored: boolean;
    },
  ): Promise<Outcome<Uint8Array>>;
}

/** What a group's server needs beyond a laboratory of one person. */
export interface Group {
  readonly secrets: Secrets;
  readonly jobs: PhotoJobs;
  /** Where browsers reach it, such as https://laboratory.example.org; null: at this machine alone. */
  readonly site: string | null;
  /** Address of this machine to listen on. */
  readonly host: string;
}

/** Studies out to archives and in; kept by main, which knows the disk. */
export interface Archives {
  pack(
    study: string,
  ): Promise<Outcome<{ readonly path: string; readonly name: string; discard(): Promise<void> }>>;
  unpack(archive: AsyncIterable<Uint8Array>, as: string | undefined): Promise<Outcome<Unpacked>>;
}

/** Reports as files; kept by main, which cuts pictures and knows where the reader's recount was built. */
export interface Reports {
  /** Whether a Chromium is on this machine, without which there is no PDF. */
  readonly prints: boolean;
  report(
    study: string,
    as: 'html' | 'md' | 'csv' | 'pdf' | 'tables',
  ): Promise<Outcome<{ readonly name: string; readonly text: string | Uint8Array }>>;
}

/** Works a plan out, beside the server's own thread where main lends such a desk. */
export type Planner = (wish: PlanAsked) => Promise<Outcome<PlanReport>>;

/** What main lends to the server: the deeds' tools, and what only a server needs. */
export interface Served extends Tools {
  readonly laboratory: Laboratory;
  readonly version: string;
  readonly tiles: PhotoTiles;
  /** Without it reports are written at the terminal alone. */
  readonly reports?: Reports;
  /** Without it plans are worked out in the server's own thread, and requests wait meanwhile. */
  readonly planner?: Planner;
  /** Reading of spectrum files; without it none can be attached. */
  readonly spectra?: SpectrumWork;
  /** Without it studies are packed and brought in at the terminal alone. */
  readonly archives?: Archives;
  /** A laboratory that several people share; without it nobody signs in and this process searches the photos. */
  readonly group?: Group;
  /** The network of the room, for paired telephones; without it none can be let in. */
  readonly network?: Network;
  /** Who makes marks and brings photos in, on a laboratory of one person. */
  readonly person: string;
  /** They take part in blinded rounds and see nothing else of the studies. */
  readonly scoresAlone?: boolean;
  /** The built screens; null: only the interface for programs is served. */
  readonly screens: string | null;
  /** Where machine failures are told. */
  log(text: string): void;
}
