import type { SubsetDetail } from '../../api/index.ts';
import { csvText } from '../../report/index.ts';

/** The pieces as a table to send out; the column “material” is left for the other laboratory. */
export function tableOf(
  pieces: readonly SubsetDetail['pieces'][number][],
  photos: ReadonlyMap<string, { readonly name: string }>,
): string {
  return csvText(
    ['place', 'particle', 'photo', 'number', 'x_px', 'y_px', 'feret_max_um', 'shape', 'colour', 'material'],
    pieces.map(({ place, particle, photo }) => [
      place,
      particle.id,
      photos.get(photo)?.name ?? '',
      particle.number,
      tenths(particle.centroid_px[0]),
      tenths(particle.centroid_px[1]),
      particle.feret_max_um === null ? '' : tenths(particle.feret_max_um),
      particle.shape,
      particle.colour,
      '',
    ]),
  );
}

const tenths = (value: number): number => Math.round(10 * value) / 10;
