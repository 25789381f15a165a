/** A line between two programs that the tests can cut, hold or slow down, as a network does. */
import net from 'node:net';

export interface Line {
  readonly port: number;
  /** Breaks what is open and takes nothing new. */
  cut(): void;
  /** Keeps what is open and passes nothing of it on, ever; what is opened from now on passes. */
  lose(): void;
  /** Breaks each connection that has passed so many bytes, so many times. */
  breakAfter(bytes: number, times?: number): void;
  /** Passes everything on, each piece so much later. */
  mend(laterMs?: number): void;
  close(): Promise<void>;
}

export async function lineTo(port: number): Promise<Line> {
  let open = true;
  let laterMs = 0;
  let breaking = { after: Number.POSITIVE_INFINITY, times: 0 };
  const ends = new Set<net.Socket>();
  const lost = new Set<net.Socket>();
  const pass = (from: net.Socket, to: net.Socket): void => {
    let passed = 0;
    from.on('data', (part) => {
      passed += part.length;
      if (passed > breaking.after && breaking.times > 0) {
        breaking.times--;
        from.destroy();
        return;
      }
      const on = () => !to.destroyed && to.write(part);
      if (lost.has(from)) return;
      if (laterMs > 0) setTimeout(on, laterMs);
      else on();
    });
  };
  const server = net.createServer((near) => {
    if (!open) {
      near.destroy();
      return;
    }
    const far = net.connect(port, '127.0.0.1');
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      ends.add(one);
      pass(one, other);
      one.on('error', () => {});
      one.on('close', () => {
        ends.delete(one);
        // The far end of a lost line hears of nothing, the end of it neither.
        if (!lost.delete(one)) other.destroy();
      });
    }
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const breakAll = () => {
    for (const end of ends) end.destroy();
  };
  return {
    port: (server.address() as net.AddressInfo).port,
    cut() {
      open = false;
      breakAll();
    },
    lose() {
      for (const end of ends) lost.add(end);
    },
    breakAfter(bytes, times = 1) {
      breaking = { after: bytes, times };
    },
    mend(later = 0) {
      open = true;
      breaking.times = 0;
      laterMs = later;
    },
    close: () => {
      breakAll();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
}
