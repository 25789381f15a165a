import { type MatchJson, setAsideSentence } from '../api/index.ts';

/** A match in words and a small picture of bars. */
export function matchWords(json: MatchJson): string {
  if (json.refusal !== null) return json.refusal.message;
  const lines: string[] = [];
  const { answer, cannot_tell: doubt } = json;
  lines.push(
    answer !== null
      ? `${json.spectrum.name}: ${answer.family}${answer.material === answer.family ? '' : ` (most like ${answer.material})`}, ${answer.kind}, likeness ${answer.likeness.toFixed(2)}.`
      : `${json.spectrum.name}: cannot tell. ${doubt!.message}`,
  );
  const { threshold } = json;
  if (threshold !== null) {
    const basis =
      threshold.basis === 'these-references'
        ? `set on these ${json.references.used} references`
        : `a stored one, as ${json.references.used} references of ${json.references.families} families are too few to set it`;
    lines.push(
      `Evidence ${json.evidence!.toFixed(2)} against a threshold of ${threshold.evidence.toFixed(2)} (${basis}; false accepts ${threshold.false_accepts * 100} %).`,
    );
  }
  for (const r of json.ranking.slice(0, 5)) {
    const bar = '█'.repeat(Math.round(Math.max(0, r.likeness) * 20)).padEnd(20, '·');
    lines.push(
      `  ${String(r.rank).padStart(2)} ${bar} ${r.likeness.toFixed(2)}  ${r.family}  ${r.reference}`,
    );
  }
  const { bands } = json;
  if (bands !== null) {
    lines.push(
      `  bands of ${bands.family} that are there: ${list(bands.for)}; missing: ${list(bands.against.missing)}`,
    );
    for (const { at_per_cm, others } of bands.against.unexplained) {
      lines.push(
        `  a strong band at ${at_per_cm} that ${bands.family} has no word for${others.length > 0 ? `; ${others.join(', ')} would` : ''}`,
      );
    }
  }
  if (json.mixture !== null) {
    const [first, second] = json.mixture.parts;
    lines.push(
      `  two together explain it better: ${first!.family} and ${second!.family} (${Math.round(first!.share_of_signal * 100)} and ${Math.round(second!.share_of_signal * 100)} % of the signal, not of the mass)`,
    );
  }
  for (const taken of json.spectrum.taken) lines.push(`  ${taken}`);
  const aside = setAsideSentence(json);
  if (aside !== null) lines.push(`  ${aside}`);
  if (json.references.skipped.length > 0) {
    lines.push(
      `  ${json.references.skipped.length} files of the folder could not be used; ${json.references.skipped[0]!.message}`,
    );
  }
  return lines.join('\n');
}

const list = (bands: readonly number[]): string => (bands.length > 0 ? bands.join(' ') : 'none');
