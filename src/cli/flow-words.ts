import type { BandReport, FlowReport } from '../study/index.ts';
import { wrapped } from './claim-words.ts';
import { duration, figure, list, table } from './page-words.ts';

const FOREVER_S = 30 * 86_400;

/** The forecast as a page: what to do first, then the figures, a picture, and the reasons. */
export function flowWords(flow: FlowReport): string {
  const { capacity_ml: capacity, target } = flow;
  const headline =
    capacity.upper === null
      ? `No end of this filter is in sight: at least ${figure(capacity.lower)} mL pass before its flow is down to a tenth.`
      : `This filter takes about ${figure(capacity.value)} mL (${figure(capacity.lower)} to ${figure(capacity.upper)} mL, 90 % sure) before its flow is down to a tenth.`;
  const rows: [string, string][] = [
    ['flow at the start', `${figure(flow.start_flow_ml_per_min)} mL/min`],
    ['flow now', `${share(flow.flow_now_share)} of that`],
  ];
  if (flow.per_filter_ml !== null) rows.push(['pour on one filter', `${figure(flow.per_filter_ml)} mL`]);
  if (flow.filters !== null) rows.push(['filters for all of it', String(flow.filters)]);
  if (flow.passed !== null) rows.push(['passed so far', `${(100 * flow.passed).toFixed(1)} % of the liquid`]);
  if (target !== null) {
    const { time_s: time } = target;
    rows.push([
      `${figure(target.volume_ml)} mL on one filter`,
      time === null || time.value > FOREVER_S
        ? 'will not pass'
        : `after ${duration(time.value)} (${duration(time.lower)} to ${time.upper === null || time.upper > FOREVER_S ? 'never' : duration(time.upper)})`,
    ]);
  }
  const laws = flow.laws.map(
    (fit) =>
      `${fit.law.padEnd(13)}${`${Math.round(100 * fit.probability)} in 100`.padStart(11)}   ${
        fit.last_volume_ml === null ? 'has no end' : `nothing passes after ${figure(fit.last_volume_ml)} mL`
      }, misses the marks by ${(100 * fit.scatter).toFixed(1)} %`,
  );
  return [
    `${wrapped(headline, '', '')}\n${wrapped(flow.law_sentence, '', '')}\n`,
    table(rows),
    `\n${picture(flow)}\n`,
    list(
      'What to do',
      flow.advice.map((advice) => advice.message),
    ),
    `\nThe four laws\n${laws.map((line) => `  ${line}`).join('\n')}\n`,
    flow.resistance === null
      ? ''
      : `\nResistance by the line of t/V on V, water of 20 °C: membrane ${flow.resistance.membrane_per_m.toExponential(2)} 1/m${
          flow.resistance.cake_m_per_kg === null
            ? ''
            : `, cake ${flow.resistance.cake_m_per_kg.toExponential(2)} m/kg`
        }.\n`,
    list('Take care', flow.cautions),
  ].join('');
}

const share = ({ value, lower, upper }: BandReport): string =>
  `${Math.round(100 * value)} % (${Math.round(100 * lower)} to ${Math.round(100 * (upper ?? 1))} %)`;

const WIDE = 60;
const HIGH = 12;

/** Volume over time in characters: ● marks, · forecast, ▒ where the filter is full. */
function picture(flow: FlowReport): string {
  const last = flow.marks[flow.marks.length - 1]!;
  const shown = flow.curve.filter((at) => at.time_s !== null && at.time_s.value < 8 * last.time_s);
  const most = Math.max(last.volume_ml, shown[shown.length - 1]?.volume_ml ?? 0) * 1.05;
  const longest = Math.max(last.time_s, ...shown.map((at) => at.time_s!.value)) * 1.02;
  const cells = Array.from({ length: HIGH }, (_, row) => {
    const volume = ((HIGH - row - 0.5) / HIGH) * most;
    const full: string =
      volume >= flow.capacity_ml.lower && volume <= (flow.capacity_ml.upper ?? Infinity) ? '▒' : ' ';
    return Array.from({ length: WIDE }, () => full);
  });
  const put = (time: number, volume: number, sign: string) => {
    const column = Math.min(WIDE - 1, Math.floor((time / longest) * WIDE));
    const row = HIGH - 1 - Math.min(HIGH - 1, Math.floor((volume / most) * HIGH));
    cells[row]![column] = sign;
  };
  for (const at of shown) put(at.time_s!.value, at.volume_ml, '·');
  for (const mark of flow.marks) put(mark.time_s, mark.volume_ml, '●');
  const lines = cells.map((line, row) => {
    const label = row === 0 ? `${figure(most)} mL` : row === HIGH - 1 ? '0' : '';
    return `  ${label.padStart(9)} │${line.join('')}`;
  });
  return [
    ...lines,
    `  ${''.padStart(9)} └${'─'.repeat(WIDE)}`,
    `  ${''.padStart(9)}  0${duration(longest).padStart(WIDE - 1)}`,
    '             ● marks   · forecast   ▒ the filter is as good as full',
  ].join('\n');
}
