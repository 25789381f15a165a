/** Which places of a photograph lie under print. */
import { fromLine, type PrintModel } from './print-model.ts';

/** Places where what lies there cannot be judged as elsewhere. */
export interface HiddenPlaces {
  /** Whether a place is one of them, px. */
  holds(x: number, y: number): boolean;
}

/** A class, so that the question is the same function for every photograph: the engine forgets how to run those that are made anew. */
export class UnderPrint implements HiddenPlaces {
  readonly #print: PrintModel | null;

  constructor(print: PrintModel | null) {
    this.#print = print;
  }

  holds(x: number, y: number): boolean {
    const print = this.#print;
    return print !== null && fromLine(print.lattice, x - 0.5, y - 0.5) < print.halfZone;
  }
}
