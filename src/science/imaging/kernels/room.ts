/**
 * Compiled kernels and the memory they work in: one of each a thread. Planes taken from the room need no copy to be worked
 * on; what is taken within `inRoom` goes back when it ends. Where the room is full, or the machine has no WebAssembly with
 * SIMD, planes are ordinary memory and the plain functions do the work.
 */
import { COMPILED } from './compiled.ts';

/** Pointers are bytes from the room's start. What each does stands in `source/`. */
export interface Kernels {
  smooth(from: number, w: number, h: number, out: number, line: number): void;
  halve(from: number, w: number, h: number, out: number): void;
  convolve(
    from: number,
    w: number,
    h: number,
    kernel: number,
    reach: number,
    across: number,
    out: number,
    line: number,
  ): void;
  localMax(from: number, w: number, h: number, r: number, out: number, rows: number, line: number): void;
  dilate(from: number, w: number, h: number, r: number, out: number, rows: number, line: number): void;
  ramp(out: number, n: number, first: number, step: number): void;
  inverse(line: number, n: number, full: number, weight: number): void;
  opponentBytes(
    data: number,
    backR: number,
    backG: number,
    backB: number,
    n: number,
    lightness: number,
    redGreen: number,
    blueYellow: number,
    wr: number,
    wg: number,
    wb: number,
  ): void;
  lightnessBytes(data: number, byR: number, byG: number, byB: number, n: number, out: number): void;
  markLightness(values: number, noise: number, n: number, grow: number, seed: number, mask: number): number;
  markColour(
    a: number,
    b: number,
    noiseA: number,
    noiseB: number,
    n: number,
    grow: number,
    seed: number,
    mask: number,
  ): number;
  bend(from: number, w: number, h: number, across: number, out: number): void;
  sumAlong(
    bends: number,
    w: number,
    h: number,
    step: number,
    half: number,
    x0: number,
    y0: number,
    x1: number,
    y1: number,
    out: number,
  ): void;
  weigh(drawn: number, seen: number, n: number, weight: number, times: number, power: number): void;
  crop(from: number, stride: number, bytes: number, rows: number, out: number): void;
  distance(mask: number, w: number, h: number, out: number, room: number): void;
  strength(
    l: number,
    a: number,
    b: number,
    n: number,
    perL: number,
    perA: number,
    perB: number,
    out: number,
  ): void;
  beyond(a: number, b: number, n: number, off: number, out: number): void;
  mix(
    light: number,
    hue: number,
    mostLight: number,
    mostHue: number,
    n: number,
    alone: number,
    beside: number,
    out: number,
  ): void;
  halfHeight(
    contrast: number,
    high: number,
    around: number,
    z: number,
    n: number,
    halo: number,
    least: number,
    grow: number,
    level: number,
    field: number,
    mask: number,
  ): void;
  markBeyond(values: number, n: number, weak: number, strong: number, mask: number): number;
}

interface Memory {
  readonly buffer: ArrayBuffer;
}

/** The part of the language's WebAssembly that is used; missing on machines without it. */
declare const WebAssembly:
  | undefined
  | {
      readonly Memory: new (size: { initial: number; maximum: number }) => Memory;
      readonly Module: new (bytes: Uint8Array) => object;
      readonly Instance: new (
        module: object,
        imports: { env: { memory: Memory; abort: () => void } },
      ) => { readonly exports: unknown };
    };

const PAGE = 65536;
/** Bytes of the room; the machine gives real memory only to what is touched. */
const SIZE = 640 * PAGE;
/** Kernels may write a little beyond the end of a plane. */
const GAP = 64;

export interface Room {
  readonly kernels: Kernels;
  /** Whether so many more bytes are free. */
  fits(bytes: number): boolean;
  /** Memory with anything in it. */
  space(bytes: number): number;
  /** Whether a plane lies here. */
  holds(plane: Float32Array | Uint8Array): boolean;
  /** Where a plane lies: its own place, or that of a copy. */
  at(plane: Float32Array | Uint8Array): number;
  /** Where a kernel may write what becomes `plane`: its own place, or room for `hand` to copy from. */
  into(plane: Float32Array | Uint8Array): number;
  hand<T extends Float32Array | Uint8Array>(at: number, plane: T): T;
  floats(at: number, n: number): Float32Array;
  bytes(at: number, n: number): Uint8Array;
  ints(at: number, n: number): Int32Array;
  /** What is taken from here on goes back by `release`. */
  mark(): number;
  release(mark: number): void;
}

function makeRoom(): Room | null {
  if (typeof WebAssembly === 'undefined') return null;
  let memory: Memory;
  let kernels: Kernels;
  try {
    memory = new WebAssembly.Memory({ initial: SIZE / PAGE, maximum: SIZE / PAGE });
    const module = new WebAssembly.Module(fromBase64(COMPILED));
    const imports = { env: { memory, abort: () => {} } };
    kernels = new WebAssembly.Instance(module, imports).exports as Kernels;
  } catch {
    // No SIMD, or no such memory: the plain functions serve.
    return null;
  }
  const { buffer } = memory;
  let next = PAGE;
  const space = (bytes: number): number => {
    const at = next;
    next = (at + bytes + GAP + 15) & ~15;
    if (next > SIZE) throw new RangeError(`room of the kernels: ${bytes} bytes more than there are`);
    return at;
  };
  return {
    kernels,
    space,
    fits: (bytes) => next + bytes + 16 * GAP <= SIZE,
    holds: (plane) => plane.buffer === buffer,
    at(plane) {
      if (plane.buffer === buffer) return plane.byteOffset;
      const at = space(plane.byteLength);
      if (plane instanceof Float32Array) new Float32Array(buffer, at, plane.length).set(plane);
      else new Uint8Array(buffer, at, plane.length).set(plane);
      return at;
    },
    into: (plane) => (plane.buffer === buffer ? plane.byteOffset : space(plane.byteLength)),
    hand(at, plane) {
      if (plane.buffer === buffer) return plane;
      if (plane instanceof Float32Array) plane.set(new Float32Array(buffer, at, plane.length));
      else plane.set(new Uint8Array(buffer, at, plane.length));
      return plane;
    },
    floats: (at, n) => new Float32Array(buffer, at, n),
    bytes: (at, n) => new Uint8Array(buffer, at, n),
    ints: (at, n) => new Int32Array(buffer, at, n),
    mark: () => next,
    release(mark) {
      next = mark;
    },
  };
}

function fromBase64(text: string): Uint8Array {
  const digits = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
  const clean = text.replace(/=+$/, '');
  const out = new Uint8Array(Math.floor((clean.length * 3) / 4));
  let bits = 0;
  let held = 0;
  let n = 0;
  for (const digit of clean) {
    held = ((held << 6) | digits.indexOf(digit)) & 0xffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    out[n++] = (held >> bits) & 255;
  }
  return out;
}

let made: Room | null | undefined;

/** The room of this thread; null where the plain functions must do. */
export function kernelRoom(): Room | null {
  if (made === undefined) made = makeRoom();
  return made;
}

/** Room that a kernel needs beyond its planes, where lines and rims are small. */
const LITTLE = 65536;

/**
 * Runs `work` with the room when `bytes` more fit, and gives back what it takes; null without running it otherwise.
 */
export function withKernels<T>(bytes: number, work: (room: Room) => T): T | null {
  const room = kernelRoom();
  if (!room?.fits(bytes + LITTLE)) return null;
  const mark = room.mark();
  try {
    return work(room);
  } finally {
    room.release(mark);
  }
}

let open = 0;

/**
 * Planes that `work` takes by `takeFloats` and `takeBytes` lie in the room and go back at its end: none may be kept.
 * What it needs is handed on, so that it can be a function that stays: the engine forgets how to run one made for each call.
 */
export function inRoom<A extends readonly unknown[], T>(work: (...given: A) => T, ...given: A): T {
  const room = kernelRoom();
  const mark = room?.mark() ?? 0;
  open++;
  try {
    return work(...given);
  } finally {
    open--;
    room?.release(mark);
  }
}

/** Part of the room that planes may take; the rest is for the kernels' own work. */
const SPARE = 10 * 1024 * 1024;

/** A plane of n floats with anything in it: of the room within `inRoom`, fresh otherwise. */
export function takeFloats(n: number): Float32Array {
  const room = open > 0 ? kernelRoom() : null;
  return room?.fits(4 * n + SPARE) ? room.floats(room.space(4 * n), n) : new Float32Array(n);
}

/** The room when it holds all these planes; null otherwise. */
export function roomOf(...planes: readonly (Float32Array | Uint8Array)[]): Room | null {
  const room = made;
  if (!room) return null;
  for (const plane of planes) if (!room.holds(plane)) return null;
  return room;
}

/** As `takeFloats`, for bytes. */
export function takeBytes(n: number): Uint8Array {
  const room = open > 0 ? kernelRoom() : null;
  return room?.fits(n + SPARE) ? room.bytes(room.space(n), n) : new Uint8Array(n);
}

/** As `takeFloats`, for whole numbers, all 0. */
export function takeInts(n: number): Int32Array {
  const room = open > 0 ? kernelRoom() : null;
  return room?.fits(4 * n + SPARE) ? room.ints(room.space(4 * n), n).fill(0) : new Int32Array(n);
}
