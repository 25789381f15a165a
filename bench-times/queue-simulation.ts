/**
 * The queue of photographs as a seeded simulation from event to event: photographs arrive, the first free worker takes
 * the oldest, a worker may die with one in hand. Pure: times in seconds, no clock.
 */

export interface QueueWish {
  readonly workers: number;
  /** Length of what is simulated; who arrives before the end is searched to the end. */
  readonly untilS: number;
  /** Moment of the next arrival after `now`, and how many photographs come together then. */
  arrival(now: number): { readonly at: number; readonly photos: number };
  /** Seconds that one search takes. */
  searchS(): number;
  /** Whether this try ends with the death of its worker. */
  dies(): boolean;
  /** A chance from 0 to 1, for how far a dying worker comes. */
  chance(): number;
  /** From the death until the photograph is given to another, and until the worker is back. */
  readonly silentS: number;
  readonly backS: number;
  /** Tries after which a photograph is set aside. */
  readonly tries: number;
}

export interface QueueTold {
  readonly photos: number;
  /** Waits from arrival to the beginning of the first search, in order of arrival. */
  readonly waitsS: Float64Array;
  readonly searchedAgain: number;
  readonly setAside: number;
  /** Share of the workers' time up to the end in which they searched. */
  readonly busy: number;
}

interface Event {
  readonly at: number;
  readonly what: 'free' | 'again';
  readonly photo: number;
  readonly tries: number;
}

/** Events by time, in a binary heap. */
class Agenda {
  private readonly heap: Event[] = [];
  get next(): Event | undefined {
    return this.heap[0];
  }
  add(event: Event): void {
    const { heap } = this;
    let at = heap.push(event) - 1;
    for (let up = (at - 1) >> 1; at > 0 && heap[up]!.at > event.at; up = (at - 1) >> 1) {
      heap[at] = heap[up]!;
      at = up;
    }
    heap[at] = event;
  }
  take(): Event | undefined {
    const { heap } = this;
    const first = heap[0];
    const last = heap.pop();
    if (heap.length === 0 || !last) return first;
    let at = 0;
    for (;;) {
      let down = 2 * at + 1;
      if (down + 1 < heap.length && heap[down + 1]!.at < heap[down]!.at) down++;
      if (down >= heap.length || heap[down]!.at >= last.at) break;
      heap[at] = heap[down]!;
      at = down;
    }
    heap[at] = last;
    return first;
  }
}

export function simulateQueue(wish: QueueWish): QueueTold {
  const agenda = new Agenda();
  const arrived: number[] = [];
  const waits: number[] = [];
  const waiting: { photo: number; tries: number }[] = [];
  let head = 0;
  let free = wish.workers;
  let [searchedAgain, setAside, searching] = [0, 0, 0];

  const begin = (now: number): void => {
    while (free > 0 && head < waiting.length) {
      const { photo, tries } = waiting[head++]!;
      free--;
      if (tries === 1) waits[photo] = now - arrived[photo]!;
      const whole = wish.searchS();
      if (!wish.dies()) {
        searching += Math.max(0, Math.min(whole, wish.untilS - now));
        agenda.add({ at: now + whole, what: 'free', photo, tries });
        continue;
      }
      const died = now + whole * wish.chance();
      searching += Math.max(0, Math.min(died, wish.untilS) - now);
      agenda.add({ at: died + wish.backS, what: 'free', photo, tries });
      if (tries >= wish.tries) setAside++;
      else agenda.add({ at: died + wish.silentS, what: 'again', photo, tries: tries + 1 });
    }
    // What has begun is forgotten now and then, or millions of photographs would fill the memory.
    if (head > 100_000) {
      waiting.splice(0, head);
      head = 0;
    }
  };

  let coming = wish.arrival(0);
  for (;;) {
    const event = agenda.next;
    if (coming.at < wish.untilS && (!event || coming.at <= event.at)) {
      const { at, photos } = coming;
      for (let k = 0; k < photos; k++) waiting.push({ photo: arrived.push(at) - 1, tries: 1 });
      begin(at);
      coming = wish.arrival(at);
      continue;
    }
    if (!event) break;
    agenda.take();
    if (event.what === 'free') free++;
    else {
      searchedAgain++;
      waiting.push({ photo: event.photo, tries: event.tries });
    }
    begin(event.at);
  }
  return {
    photos: arrived.length,
    waitsS: Float64Array.from(waits),
    searchedAgain,
    setAside,
    busy: searching / (wish.workers * wish.untilS),
  };
}

/**
 * Probability that who arrives must wait, for Poisson arrivals, exponential service and `c` servers under an offered load of
 * `a` erlangs (Erlang C; Gross, Shortle, Thompson, Harris, Fundamentals of Queueing Theory, 4th ed. 2008, §2.3). By Erlang's
 * recursion for the loss probability, which stays finite for thousands of servers.
 */
export function erlangC(c: number, a: number): number {
  if (!(c >= 1 && a > 0 && a < c)) throw new RangeError(`Erlang C: 0 < load < servers, given ${a} and ${c}`);
  let loss = 1;
  for (let k = 1; k <= c; k++) loss = (a * loss) / (k + a * loss);
  return loss / (1 - (a / c) * (1 - loss));
}
