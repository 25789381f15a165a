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
  return lines.join('\n');
}

const list = (bands: readonly number[]): string => (bands.length > 0 ? bands.join(' ') : 'none');

/** Counts answers as they come, and says once at the end what holds for all of them. */
export function newTally() {
  const families = new Map<string, number>();
  const aside = new Set<string>();
  let skipped: MatchJson['references']['skipped'] = [];
  let all = 0;
  let refused = 0;
  let open = 0;
  return {
    add(json: MatchJson): void {
      all++;
      if (json.refusal !== null) refused++;
      else if (json.answer === null) open++;
      else families.set(json.answer.family, (families.get(json.answer.family) ?? 0) + 1);
      skipped = json.references.skipped;
      const sentence = setAsideSentence(json);
      if (sentence !== null) aside.add(sentence);
    },
    refused: () => refused,
    words(): string {
      // Sets of references differ a little by the stretch of the query; one sentence is enough to look by.
      const lines = [...aside].slice(0, 1);
      if (skipped.length > 0) {
        lines.push(
          `${skipped.length === 1 ? '1 file' : `${skipped.length} files`} of the folder of references could not be used; the first: ${skipped[0]!.message}`,
        );
      }
      if (all > 1) {
        const told = [...families.values()].reduce((sum, n) => sum + n, 0);
        const each = [...families].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1));
        const names = each.map(([family, n]) => `${family} ${n}`).join(', ');
        lines.push(
          `${all} spectra: ${told} answered${told > 0 ? ` (${names})` : ''}, ${open} cannot be told, ${refused} could not be compared.`,
        );
      }
      return lines.map((line) => `${line}\n`).join('');
    },
  };
}
