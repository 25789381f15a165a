import type { Fraction, Micrometres, MicrometresPerPixel, Millimetres } from '../../units/index.ts';
import {
  aFraction,
  aName,
  aNote,
  anId,
  anInstant,
  type Id,
  type Instant,
  maker,
  notNegative,
  orNull,
  positive,
  text,
} from './rules.ts';
import type { FractionId, RunId } from './run.ts';
import type { StudyId } from './study.ts';

export type FilterId = Id<'filter'>;
export type OpticsId = Id<'optics'>;

export interface Filter {
  readonly id: FilterId;
  readonly run: RunId;
  /** The liquid that went through it, where a run's liquid went through several; null: all that passed. */
  readonly fraction: FractionId | null;
  readonly name: string;
  readonly material: string;
  readonly poreUm: Micrometres;
  /** Diameter of the disc that liquid passed through, not of the membrane. */
  readonly effectiveDiameterMm: Millimetres;
  /** Pitch of the printed squares; null: no print. */
  readonly pitchMm: Millimetres | null;
  readonly lot: string;
  /** Share of the disc that was looked at, as somebody states it; null: reckon it from the photographs. */
  readonly examinedStated: Fraction | null;
  readonly note: string;
  readonly madeAt: Instant;
}

export const makeFilter = maker<Filter>(
  'filter',
  {
    id: anId,
    run: anId,
    fraction: orNull(anId),
    name: aName,
    material: text(0, 120),
    poreUm: positive,
    effectiveDiameterMm: positive,
    pitchMm: orNull(positive),
    lot: text(0, 120),
    examinedStated: orNull(aFraction),
    note: aNote,
    madeAt: anInstant,
  },
  (f) => {
    if (f.pitchMm !== null && f.pitchMm >= f.effectiveDiameterMm) {
      return {
        why: 'pitch-too-wide',
        message: `filter “${f.name}”: printed squares of ${f.pitchMm} mm do not fit a disc of ${f.effectiveDiameterMm} mm.`,
      };
    }
    if (f.examinedStated === 0) {
      return {
        why: 'not-looked',
        message: `filter “${f.name}”: a filter of which nothing was looked at has no count; leave the share empty.`,
      };
    }
    return null;
  },
);

/** A lens setting with its calibration. */
export interface Optics {
  readonly id: OpticsId;
  readonly study: StudyId;
  readonly name: string;
  readonly lens: string;
  readonly light: string;
  readonly umPerPx: MicrometresPerPixel | null;
  readonly relativeUncertainty: number | null;
  /** What two things must be apart to be told apart. */
  readonly resolutionUm: Micrometres | null;
  readonly note: string;
  readonly madeAt: Instant;
}

export const makeOptics = maker<Optics>('optics', {
  id: anId,
  study: anId,
  name: aName,
  lens: text(0, 200),
  light: text(0, 200),
  umPerPx: orNull(positive),
  relativeUncertainty: orNull(notNegative),
  resolutionUm: orNull(positive),
  note: aNote,
  madeAt: anInstant,
});
