import type { Finding, Particle, Scale } from '../science/imaging/finding.ts';
import type { Refusal } from '../units/index.ts';
import type { FindingJson, ParticleJson, PhotoFactsJson, ScaleJson } from './particles.ts';

const rounded = (value: number, places: number): number => Number(value.toFixed(places));
const orNull = (value: number | null, places: number): number | null =>
  value === null ? null : rounded(value, places);

export function scaleJson(scale: Scale): ScaleJson {
  return {
    um_per_px: scale.umPerPx,
    relative_uncertainty: scale.relativeUncertainty,
    basis: scale.basis,
    pitch_mm: scale.pitch,
    rotation_deg: scale.rotationDeg,
    squares: scale.squares,
  };
}

/** Positions to a hundredth of a pixel, lengths to a hundredth of a µm: far finer than any optics. */
export function particleJson(p: Particle): ParticleJson {
  return {
    outline_px: p.outlinePx.map(([x, y]): [number, number] => [rounded(x, 2), rounded(y, 2)]),
    centroid_px: [rounded(p.centroidPx[0], 2), rounded(p.centroidPx[1], 2)],
    area_px2: rounded(p.areaPx2, 2),
    feret_max_px: rounded(p.feretMaxPx, 2),
    feret_min_px: rounded(p.feretMinPx, 2),
    area_um2: orNull(p.areaUm2, 1),
    feret_max_um: orNull(p.feretMaxUm, 2),
    feret_min_um: orNull(p.feretMinUm, 2),
    equivalent_diameter_um: orNull(p.equivalentDiameterUm, 2),
    perimeter_um: orNull(p.perimeterUm, 2),
    circularity: rounded(p.circularity, 4),
    solidity: rounded(p.solidity, 4),
    fibre_length_um: orNull(p.fibreLengthUm, 2),
    fibre_width_um: orNull(p.fibreWidthUm, 2),
    shape: p.shape,
    shape_because: p.shapeBecause,
    colour: p.colour,
    lab: [rounded(p.lab[0], 2), rounded(p.lab[1], 2), rounded(p.lab[2], 2)],
    touches_frame: p.touchesFrame,
    square: p.square === null ? null : [p.square[0], p.square[1]],
    frame_weight: rounded(p.frameWeight, 4),
    certainty: rounded(p.certainty.real, 4),
    certainty_because: {
      real: rounded(p.certainty.real, 4),
      lightness: rounded(p.certainty.lightness, 2),
      colour: rounded(p.certainty.colour, 2),
      ridge: rounded(p.certainty.ridge, 2),
    },
  };
}

/** The answer for one photograph, as `find --json` prints it and the laboratory serves it. */
export function findingJson(photo: PhotoFactsJson, finding: Finding): FindingJson {
  return {
    format: 'retentate/particles/1',
    photo,
    method: { name: finding.method, version: finding.version },
    scale: finding.scale && scaleJson(finding.scale),
    refusal: finding.refusal && wordsOf(finding.refusal),
    warnings: finding.warnings.map(wordsOf),
    searched_fraction: finding.searchedFraction,
    floor_px: rounded(finding.floorPx, 2),
    floor_um: finding.scale && rounded(finding.floorPx * finding.scale.umPerPx, 2),
    particles: finding.particles.map(particleJson),
  };
}

/** The answer for a file that could not be read or searched. */
export function refusedFindingJson(photo: PhotoFactsJson, refusal: Refusal): FindingJson {
  return {
    format: 'retentate/particles/1',
    photo,
    method: null,
    scale: null,
    refusal: wordsOf(refusal),
    warnings: [],
    searched_fraction: null,
    floor_px: null,
    floor_um: null,
    particles: [],
  };
}

/** Only code and sentence travel; a refusal may hold more facts inside the house. */
const wordsOf = ({ why, message }: Refusal) => ({ why, message });
