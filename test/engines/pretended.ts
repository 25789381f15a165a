/** Stand-ins for what surrounds the records: a clock that ticks, names in a row, and a finder that knows its particles. */
import fs from 'node:fs';
import type { Clock, Names, PhotoWork } from '../../src/actions/index.ts';
import type { Finding, FindWish, Particle } from '../../src/science/imaging/finding.ts';
import type { Id, Instant } from '../../src/study/index.ts';
import { done, fraction, refused, um, um2, umPerPx } from '../../src/units/index.ts';

/** Each question moves it on by one second. */
export function tickingClock(from = Date.UTC(2026, 0, 5, 9)): Clock {
  let now = from;
  return {
    now: () => {
      now += 1000;
      return new Date(now).toISOString() as Instant;
    },
  };
}

export function countedNames(series = 1): Names {
  let n = 0;
  return {
    next: <K extends string>() => {
      n += 1;
      const tail = n.toString(16).padStart(12, '0');
      return `00000000-0000-7000-8${series.toString(16).padStart(3, '0')}-${tail}` as Id<K>;
    },
  };
}

export function pretendedParticle(at: number, more: Partial<Particle> = {}): Particle {
  const x = 10 + at * 3;
  const sizePx = 5 + (at % 7) * 10;
  return {
    outlinePx: [
      [x, 10],
      [x + sizePx, 10.5],
      [x + sizePx, 10 + sizePx],
      [x, 10 + sizePx],
    ],
    centroidPx: [x + sizePx / 2, 10 + sizePx / 2],
    areaPx2: sizePx ** 2,
    feretMaxPx: sizePx * 1.4,
    feretMinPx: sizePx,
    areaUm2: um2((sizePx * 5) ** 2),
    feretMaxUm: um(sizePx * 1.4 * 5),
    feretMinUm: um(sizePx * 5),
    equivalentDiameterUm: um(sizePx * 5.6),
    perimeterUm: um(sizePx * 20),
    circularity: 0.88,
    solidity: 1,
    fibreLengthUm: null,
    fibreWidthUm: null,
    shape: 'fragment',
    shapeBecause: 'pretended',
    colour: 'blue',
    lab: [60.25, -3.5, 12.125],
    touchesFrame: false,
    square: at % 2 === 0 ? [1, 2] : null,
    frameWeight: 1,
    certainty: { lightness: 9.5, colour: 3, ridge: 0, real: fraction(0.97) },
    ...more,
  };
}

export function pretendedFinding(
  wish: FindWish,
  particles: readonly Particle[],
  more: Partial<Finding> = {},
): Finding {
  return {
    method: 'pretended',
    version: '1',
    scale:
      wish.scale.from === 'nothing'
        ? null
        : {
            umPerPx: umPerPx(5),
            relativeUncertainty: 0.002,
            basis: 'printed-grid',
            pitch: wish.scale.from === 'printed-grid' ? wish.scale.pitch : null,
            rotationDeg: 0.5,
            squares: 6,
          },
    grid: [],
    refusal: null,
    warnings: [],
    particles,
    searchedFraction: fraction(0.9),
    floorPx: 6,
    ...more,
  };
}

/**
 * Reads nothing but the file's first line: “photo N” has N particles of known sizes, anything else is no photograph.
 * `more` alters its findings.
 */
export function pretendedWork(more: Partial<Finding> = {}, version = '1'): PhotoWork {
  const particlesIn = (path: string): number | null => {
    const first = /^photo (\d+)/.exec(fs.readFileSync(path, 'utf8'));
    return first ? Number(first[1]) : null;
  };
  return {
    method: 'pretended',
    version,
    inspect: async (path, name) =>
      particlesIn(path) === null
        ? refused({
            why: 'not-a-photo',
            message: `“${name}” is no photograph; bring in a JPEG, PNG or TIFF.`,
          })
        : done({ format: 'png', widthPx: 2000, heightPx: 1600, orientation: 1 }),
    find: async ({ path }, wish) => {
      const n = particlesIn(path) ?? 0;
      const particles = Array.from({ length: n }, (_, at) => pretendedParticle(at));
      return done({ ...pretendedFinding(wish, particles, more), version });
    },
    completeness: async () =>
      refused({ why: 'no-scale', message: 'Pretended photographs have no room to draw into.' }),
    colourInside: async () => done([60, 0, 0] as const),
    close: async () => {},
  };
}

export const photoBytes = (particles: number, salt = ''): Uint8Array =>
  new TextEncoder().encode(`photo ${particles}\n${salt}`);
