/** A photograph in memory searched by many hands. */
import { findingFrom, particlesFrom } from './find.ts';
import type { Finding, FindWish, Picture } from './finding.ts';
import type { PhotoRows } from './lightness.ts';
import { doneByHands, groundOf, type Hands } from './many-hands.ts';
import { overviewOf, type Prepared, preparing, WHOLE_LIMIT } from './prepare.ts';
import { groupRuns, type Region } from './regions.ts';
import { TILE } from './significance.ts';

/** Particles of a picture in memory by many hands: the same as `searchWhole`, to the last digit. */
export async function searchByHands(
  picture: Picture,
  prepared: Prepared,
  hands: Hands,
  progress: (share: number) => void = () => {},
): Promise<Finding> {
  const { membrane } = prepared;
  if (!membrane) return findingFrom(prepared, []);
  const rows: PhotoRows = { picture, top: 0 };
  const ground = groundOf(membrane, prepared.thresholds);
  const columns = Math.ceil(picture.width / TILE);
  const corners = Array.from(
    { length: columns * Math.ceil(picture.height / TILE) },
    (_, i) => [(i % columns) * TILE, Math.floor(i / columns) * TILE] as const,
  );
  const runs = await hands.tiles(rows, ground, corners);
  progress(0.3);
  const group = groupRuns();
  const regions: Region[] = [];
  for (let i = 0; i < runs.length; i += columns)
    regions.push(...group.add(runs.slice(i, i + columns), corners[i]![1] + TILE));
  regions.push(...group.finish());
  const pieces = await hands.cut(rows, ground, regions);
  progress(0.9);
  return findingFrom(prepared, particlesFrom(pieces.flat(), prepared));
}

/** As the classical finder finds, by many hands. */
export async function findByHands(
  picture: Picture,
  wish: FindWish,
  hands: Hands,
  progress?: (share: number) => void,
): Promise<Finding> {
  // Another hand may take the survey while this one looks for the print.
  const seen = hands.survey(picture);
  // Its failure is told where it is waited for.
  seen.catch(() => {});
  const overview = picture.width * picture.height <= WHOLE_LIMIT ? overviewOf(picture, wish) : null;
  const prepared = await doneByHands(preparing(await seen, picture, wish, overview), hands);
  return searchByHands(picture, prepared, hands, progress);
}
