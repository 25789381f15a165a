/** Memory for planes of floats that is used again, tile after tile: making and clearing it anew costs more than most sums. */
export interface Scratch {
  /** A plane of n floats with anything in it, until the next `release`. */
  take(n: number): Float32Array;
  /** Gives everything back. */
  release(): void;
}

export function scratch(): Scratch {
  const free = new Map<number, Float32Array[]>();
  const used: Float32Array[] = [];
  return {
    take(n) {
      const own = free.get(n)?.pop() ?? new Float32Array(n);
      used.push(own);
      return own;
    },
    release() {
      for (const own of used.splice(0)) {
        const same = free.get(own.length);
        if (same) same.push(own);
        else free.set(own.length, [own]);
      }
    },
  };
}

/** Fresh memory, for what is kept. */
export const fresh = (n: number): Float32Array => new Float32Array(n);
