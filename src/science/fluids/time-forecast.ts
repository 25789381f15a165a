import { lawOf, timeFor } from './blocking-laws.ts';
import { BAND, type Band, type FlowForecast, FULL_AT_FLOW, quantiles } from './flow-forecast.ts';

/** Offsets and weights of a normal distribution in five pieces: medians of its fifths. */
const FIFTHS = [-1.2816, -0.5244, 0, 0.5244, 1.2816] as const;

export interface TimeForecast {
  readonly volumeMl: number;
  /** Probability that the volume passes before the flow has fallen to a tenth of its start. */
  readonly reached: number;
  /** Time until then, s; `upper` null where more than a twentieth of what is possible never arrives. Null: it is likelier than not that it never passes. */
  readonly timeS: Band | null;
}

/**
 * When a volume will have passed. Nodes whose law lets it never pass count as never.
 * Deceives when: as the forecast itself; and the further the volume lies beyond the last mark.
 */
export function timeToVolume(forecast: FlowForecast, volumeMl: number): TimeForecast {
  if (!(volumeMl > 0 && volumeMl < Infinity))
    throw new RangeError(`volume in mL: a number above 0 is needed, given ${volumeMl}`);
  let reached = 0;
  const said: [number, number][] = [];
  for (const { law, lossPerMl, flowMlS, lnFlowError, weight } of forecast.nodes) {
    if (lossPerMl * volumeMl <= lawOf(law).atFlow(FULL_AT_FLOW)) reached += weight;
    if (weight < 1e-7) continue;
    const time = timeFor(law, volumeMl, flowMlS, lossPerMl);
    for (const z of FIFTHS) said.push([time * Math.exp(z * lnFlowError), weight / FIFTHS.length]);
  }
  said.sort((a, b) => a[0] - b[0]);
  const [lower, value, upper] = quantiles(said, [(1 - BAND) / 2, 0.5, (1 + BAND) / 2]);
  return {
    volumeMl,
    reached,
    timeS: Number.isFinite(value)
      ? { value: value!, lower: lower!, upper: Number.isFinite(upper) ? upper! : null, confidence: BAND }
      : null,
  };
}

/** Volumes and the band of their times, for a curve from nothing to `toMl`. */
export function forecastCurve(forecast: FlowForecast, toMl: number, points: number): readonly TimeForecast[] {
  return Array.from({ length: points }, (_, i) => timeToVolume(forecast, (toMl * (i + 1)) / points));
}
