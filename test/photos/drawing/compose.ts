import { type Chance, chanceFrom } from '../../../demo/drawing/chance.ts';
import { addPolygon, windowAround } from '../../../demo/drawing/coverage.ts';
import { inside } from '../../../demo/drawing/laying.ts';
import { type Lens, lensWith } from '../../../demo/drawing/lens.ts';
import { areaOf, centreOf, feretOf, lengthOf, type Spot } from '../../../demo/drawing/outline-measures.ts';
import { type Decoy, INVENTED, type PhotoTruth, type TruePiece } from '../../../demo/drawing/truth.ts';
import { dishBeyond, dropRing, type FilterEdge, glare, scoring, softStain } from './accidents.ts';
import { type Camera, takePhoto } from './camera.ts';
import { drawGround, type Ground } from './ground.ts';
import type { Lamp } from './paint.ts';
import type { Planes } from './planes.ts';
import { type PrintedGrid, printGrid } from './print.ts';
import { makeThing, type Thing, type ThingWish } from './things.ts';

export interface TestRecipe {
  readonly name: string;
  readonly seed: number;
  readonly width: number;
  readonly height: number;
  readonly umPerPx: number;
  readonly turnDeg: number;
  readonly distortion: number;
  readonly ground: Ground;
  readonly grid: Omit<PrintedGrid, 'crossing'> | null;
  readonly things: readonly ThingWish[];
  readonly rings: number;
  readonly stains: number;
  readonly scratches: number;
  readonly decoyDepth: number;
  readonly glare: boolean;
  /** Where the filter ends, in shares of the width and height; null: all filter. */
  readonly edge: { x: number; y: number; radius: number; dish: readonly [number, number, number] } | null;
  readonly camera: Camera;
  readonly jpegQuality: number;
}

export interface TestPhoto {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
  readonly truth: TestTruth;
}

/** How a piece shows in the finished photograph. */
export interface Shown {
  /** Root mean square change of the light over the piece, as a share of the ground's, in the channel that changes most. */
  readonly change: number;
  /** Signal against noise for an ideal observer who knows the form: texture, shot noise and blur taken into account, roughly. */
  readonly distinctness: number;
  /** Whether a careful person could find it; pieces below are neither hits nor misses. */
  readonly visible: boolean;
}

export type TestPiece = TruePiece & { readonly shown: Shown };
export type TestTruth = Omit<PhotoTruth, 'pieces'> & { readonly pieces: readonly TestPiece[] };

interface Laid {
  readonly thing: Thing;
  readonly outline: Spot[];
  readonly line: Spot[] | null;
  readonly onFilter: Spot[];
  readonly cluster: number | null;
}

/** Draws one photograph of the measuring set. */
export function composePhoto(recipe: TestRecipe): TestPhoto {
  const { width, height } = recipe;
  const chance = chanceFrom(recipe.seed, 'measuring set');
  const lens = lensWith(width, height, recipe.umPerPx, (recipe.turnDeg * Math.PI) / 180, recipe.distortion);
  const planes = drawGround(width, height, recipe.ground, chance.branch('ground'));
  const place = chance.branch('place');
  let ink: Float32Array | null = null;
  if (recipe.grid) {
    const { pitchUm } = recipe.grid;
    const crossing = [place.between(0, pitchUm), place.between(0, pitchUm)] as const;
    ink = printGrid(planes, lens, { ...recipe.grid, crossing }, chance.branch('print'));
  }
  const edge: FilterEdge | null = recipe.edge && {
    centre: [recipe.edge.x * width, recipe.edge.y * height],
    radius: recipe.edge.radius * Math.hypot(width, height),
    dish: recipe.edge.dish,
  };
  const accidents = chance.branch('accidents');
  const spot = (): Spot => [accidents.between(0, width), accidents.between(0, height)];
  const depth = (): number => recipe.decoyDepth * accidents.between(0.5, 1.3);
  const decoys: Decoy[] = [];
  for (let i = 0; i < recipe.stains; i++) {
    decoys.push(softStain(planes, spot(), accidents.between(40, 170), depth(), accidents));
  }
  for (let i = 0; i < recipe.rings; i++) {
    decoys.push(dropRing(planes, spot(), accidents.between(18, 120), depth(), accidents));
  }
  for (let i = 0; i < recipe.scratches; i++) {
    decoys.push(scoring(planes, spot(), accidents.between(60, 420), depth() * 0.8, accidents));
  }
  const laid = lay(recipe, lens, ink, edge, chance.branch('laying'));
  const angle = place.between(0, 6.283);
  const lamp: Lamp = [Math.cos(angle), Math.sin(angle)];
  const shown = laid.map((item) =>
    paintAndCompare(planes, item, recipe, () => item.thing.paint(planes, item.outline, item.line, lamp)),
  );
  if (recipe.glare) decoys.push(glare(planes, spot(), accidents.between(60, 140)));
  if (edge) dishBeyond(planes, edge, chance.branch('dish'));
  const pixels = takePhoto(planes, recipe.camera, chance.branch('camera'));
  const truth: TestTruth = {
    format: 'retentate/drawn-truth/1',
    invented: INVENTED,
    photo: { name: recipe.name, width_px: width, height_px: height },
    seed: recipe.seed,
    scale: {
      um_per_px: recipe.umPerPx,
      pitch_mm: recipe.grid ? recipe.grid.pitchUm / 1000 : null,
      rotation_deg: recipe.turnDeg,
      distortion: recipe.distortion,
    },
    whole_squares: [],
    clogged: false,
    pieces: laid.map((item, i) => ({ ...truthOf(item, i + 1, width, height, ink), shown: shown[i]! })),
    decoys,
  };
  return { width, height, pixels, truth };
}

/** Lays things at random, apart by six pixels, unless they want to touch, cross, or lie on a line. */
function lay(
  recipe: TestRecipe,
  lens: Lens,
  ink: Float32Array | null,
  edge: FilterEdge | null,
  chance: Chance,
): Laid[] {
  const laid: Laid[] = [];
  let clusters = 0;
  for (const [i, wish] of recipe.things.entries()) {
    const thing = makeThing(wish, chance.branch(`thing ${i}`));
    const before = laid[laid.length - 1];
    for (let attempt = 0; attempt < 120; attempt++) {
      const at = wish.touching && before ? besideIt(thing, before, lens, chance) : somewhere(lens, chance);
      if (!at) break;
      const onFilter = thing.form.map(([x, y]): Spot => [x + at[0], y + at[1]]);
      const outline = onFilter.map(([x, y]) => lens.toPhoto(x, y));
      if (
        edge &&
        outline.some(([x, y]) => Math.hypot(x - edge.centre[0], y - edge.centre[1]) > edge.radius - 6)
      )
        continue;
      if (wish.onLine && ink && attempt < 110 && !(inkUnder(outline, ink, lens.width, lens.height) > 0.12))
        continue;
      const others = wish.touching ? laid.slice(0, -1) : laid;
      if (others.some((o) => !(wish.crossing && o.line) && tooNear(outline, o.outline, 6))) continue;
      const line = thing.line?.map(([x, y]) => lens.toPhoto(x + at[0], y + at[1])) ?? null;
      let cluster: number | null = null;
      if (wish.touching && before) {
        cluster = before.cluster ?? ++clusters;
        laid[laid.length - 1] = { ...before, cluster };
      }
      laid.push({ thing, outline, line, onFilter, cluster });
      break;
    }
  }
  return laid;
}

const somewhere = (lens: Lens, chance: Chance): Spot =>
  lens.toFilter(chance.between(0, lens.width), chance.between(0, lens.height));

/** Slides a thing towards the last one until their outlines touch or barely overlap. */
function besideIt(thing: Thing, other: Laid, lens: Lens, chance: Chance): Spot | null {
  const middle = centreOf(other.onFilter);
  const angle = chance.between(0, 6.283);
  const ux = Math.cos(angle);
  const uy = Math.sin(angle);
  let apart = feretOf(thing.form).max + feretOf(other.onFilter).max;
  for (const step = lens.umPerPx * 0.4; apart > 0; apart -= step) {
    const form = thing.form.map(([x, y]): Spot => [x + middle[0] + ux * apart, y + middle[1] + uy * apart]);
    if (
      form.some(([x, y]) => inside(x, y, other.onFilter)) ||
      other.onFilter.some(([x, y]) => inside(x, y, form))
    ) {
      return [middle[0] + ux * apart, middle[1] + uy * apart];
    }
  }
  return null;
}

function tooNear(a: readonly Spot[], b: readonly Spot[], gap: number): boolean {
  const box = (o: readonly Spot[]): number[] => {
    const xs = o.map((p) => p[0]);
    const ys = o.map((p) => p[1]);
    return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  };
  const [ax0, ax1, ay0, ay1] = box(a) as [number, number, number, number];
  const [bx0, bx1, by0, by1] = box(b) as [number, number, number, number];
  if (ax0 > bx1 + gap || bx0 > ax1 + gap || ay0 > by1 + gap || by0 > ay1 + gap) return false;
  for (const [x, y] of a) {
    if (inside(x, y, b)) return true;
    for (const [u, v] of b) if ((x - u) ** 2 + (y - v) ** 2 < gap * gap) return true;
  }
  return b.some(([x, y]) => inside(x, y, a));
}

/** Share of an outline's points and inner points that lie on ink. */
function inkUnder(outline: readonly Spot[], ink: Float32Array, width: number, height: number): number {
  const [cx, cy] = centreOf(outline);
  let all = 0;
  let on = 0;
  for (const [x, y] of outline) {
    for (const t of [0.98, 0.7, 0.4, 0.1]) {
      const u = Math.floor(cx + (x - cx) * t);
      const v = Math.floor(cy + (y - cy) * t);
      if (u < 0 || v < 0 || u >= width || v >= height) continue;
      all++;
      if (ink[v * width + u]! > 0.5) on++;
    }
  }
  return all > 0 ? on / all : 0;
}

/** The same for a thread: along its line. */
function inkAlong(line: readonly Spot[], ink: Float32Array, width: number, height: number): number {
  const on = line.filter(([x, y]) => {
    const u = Math.floor(x);
    const v = Math.floor(y);
    return u >= 0 && v >= 0 && u < width && v < height && ink[v * width + u]! > 0.5;
  });
  return on.length / line.length;
}

/** Paints a thing and compares the light before and after. */
function paintAndCompare(planes: Planes, item: Laid, recipe: TestRecipe, paint: () => void): Shown {
  const cover = windowAround(item.outline, 0);
  addPolygon(cover, item.outline);
  const places: { at: number; share: number }[] = [];
  cover.share.forEach((share, i) => {
    const x = cover.left + (i % cover.width);
    const y = cover.top + Math.floor(i / cover.width);
    if (share > 0 && x >= 0 && y >= 0 && x < planes.width && y < planes.height) {
      places.push({ at: y * planes.width + x, share });
    }
  });
  const before = planes.rgb.map((plane) => places.map(({ at }) => plane[at]!));
  paint();
  const area = places.reduce((s, p) => s + p.share, 0);
  // Pixels at the rim carry the shadow as well: the body tells how it shows, unless it is all rim.
  const most = Math.max(0, ...places.map((p) => p.share)) * 0.5;
  const body = places.map((p, i) => ({ ...p, i })).filter((p) => p.share > most);
  const changes = planes.rgb.map((plane, c) => {
    const sum = body.reduce((s, { at, share, i }) => {
      const ground = Math.max(0.02, before[c]![i]!);
      return s + ((plane[at]! - before[c]![i]!) / ground / share) ** 2;
    }, 0);
    return Math.sqrt(sum / Math.max(1, body.length));
  });
  const change = Math.max(...changes);
  const brightest = Math.max(...recipe.ground.colour);
  const noise = Math.hypot(
    recipe.ground.texture,
    1 / Math.sqrt(recipe.camera.well * brightest),
    0.002 / brightest,
  );
  const blur = Math.hypot(recipe.camera.blur, recipe.camera.defocus / 2.5) * 2 * Math.sqrt(Math.PI);
  const feret = feretOf(item.outline);
  const thin = item.thing.widthUm ? item.thing.widthUm / recipe.umPerPx : feret.min;
  const kept = (size: number): number => size / Math.hypot(size, blur);
  const distinctness = (change / noise) * Math.sqrt((area * kept(thin) * kept(feret.max)) / 10);
  return { change, distinctness, visible: change >= 0.03 && distinctness >= 4 };
}

function truthOf(item: Laid, id: number, width: number, height: number, ink: Float32Array | null): TruePiece {
  const { thing, outline, line, onFilter } = item;
  const length = thing.line ? lengthOf(thing.line) : null;
  const feret = feretOf(onFilter);
  const inked = ink ? (line ? inkAlong(line, ink, width, height) : inkUnder(outline, ink, width, height)) : 0;
  return {
    id,
    origin: 'synthetic',
    shape: thing.shape,
    colour: thing.wish.colour,
    outline_px: outline,
    centroid_px: centreOf(outline),
    area_um2: length && thing.widthUm ? length * thing.widthUm : areaOf(onFilter),
    feret_max_um: feret.max,
    feret_min_um: feret.min,
    feret_max_px: feretOf(outline).max,
    fibre_length_um: length,
    fibre_width_um: thing.widthUm,
    fibre_line_px: line,
    on_line: inked > (line ? 0.02 : 0.08),
    cluster: item.cluster,
    touches_frame: outline.some(([x, y]) => x < 2 || y < 2 || x > width - 2 || y > height - 2),
    square: null,
  };
}
