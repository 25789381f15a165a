import type { Completeness, Floor } from '../science/imaging/index.ts';
import type { CompletenessJson } from './completeness.ts';

const floorJson = (floor: Floor) => ({
  chance: floor.chance,
  size_um: floor.sizeUm,
  lower_um: floor.lowerUm,
  upper_um: floor.upperUm,
  because: floor.because,
});

/** Completeness as it travels. */
export const completenessJson = (given: Completeness): CompletenessJson => ({
  format: 'retentate/completeness/1',
  method: { name: given.method, version: given.version },
  photographs: given.photographs,
  drawn: given.drawn,
  not_drawn: given.notDrawn,
  blur_px: given.blurPx,
  confidence: given.confidence,
  seed: given.seed,
  floors: given.floors.map(({ shape, contrast, half, nineTenths }) => ({
    shape,
    contrast,
    half: floorJson(half),
    nine_tenths: floorJson(nineTenths),
  })),
  cells: given.cells.map(({ sizeUm, ...rest }) => ({ ...rest, size_um: sizeUm })),
});
