import type { Match, Reference, ReferenceSet, Spectrum } from '../science/spectra/index.ts';
import type { Refusal } from '../units/index.ts';

/** What a spectrum is like, as it travels (format retentate/match/1). */
export interface MatchJson {
  readonly format: 'retentate/match/1';
  readonly spectrum: {
    readonly name: string;
    readonly title: string | null;
    readonly sha256: string | null;
    readonly technique: 'infrared' | 'raman' | null;
    readonly from_per_cm: number | null;
    readonly to_per_cm: number | null;
    readonly points: number | null;
    /** What the file does not say and was taken from its numbers. */
    readonly taken: readonly string[];
  };
  readonly references: {
    readonly folder: string;
    readonly used: number;
    readonly families: number;
    readonly skipped: readonly { readonly name: string; readonly why: string; readonly message: string }[];
    /** Not compared with: more like another family than the one of their label. Absent in older records. */
    readonly set_aside?: readonly { readonly name: string; readonly family: string; readonly like: string }[];
  };
  readonly answer: {
    readonly family: string;
    readonly material: string;
    readonly kind: string;
    readonly likeness: number;
    readonly reference: string;
  } | null;
  readonly cannot_tell: { readonly why: string; readonly message: string } | null;
  readonly refusal: Refusal | null;
  readonly evidence: number | null;
  readonly threshold: {
    readonly evidence: number;
    readonly false_accepts: number;
    readonly basis: 'these-references' | 'stored';
  } | null;
  readonly ranking: readonly {
    readonly rank: number;
    readonly family: string;
    readonly material: string;
    readonly kind: string;
    readonly likeness: number;
    readonly score: number;
    readonly reference: string;
  }[];
  /** Published bands of the leading family, cm⁻¹. */
  readonly bands: {
    readonly family: string;
    readonly for: readonly number[];
    readonly against: {
      readonly missing: readonly number[];
      readonly unexplained: readonly { readonly at_per_cm: number; readonly others: readonly string[] }[];
    };
    readonly source: string;
  } | null;
  readonly mixture: {
    readonly parts: readonly {
      readonly material: string;
      readonly family: string;
      readonly share_of_signal: number;
    }[];
    readonly explained: number;
  } | null;
}

export interface AskedSpectrum {
  readonly name: string;
  readonly sha256: string | null;
  readonly spectrum: Spectrum | null;
}

export interface AskedFolder {
  readonly folder: string;
  readonly skipped: readonly { readonly name: string; readonly refusal: Refusal }[];
}

const three = (n: number): number => Math.round(n * 1000) / 1000;

/** References that were not compared with, and why, in one sentence; null where all were. */
export function setAsideSentence(json: MatchJson): string | null {
  const aside = json.references.set_aside ?? [];
  if (aside.length === 0) return null;
  const named = aside
    .slice(0, 3)
    .map(({ name, family, like }) => `${name} (named ${family}, more like ${like})`);
  const more = aside.length > 3 ? ` and ${aside.length - 3} more` : '';
  return `Not compared with ${named.join(', ')}${more}: look whether the name is right, and whether a coat or a second material covers it.`;
}

/** A match in its travelling form; `set` is null where the spectrum itself was refused. */
export function matchJson(
  asked: AskedSpectrum,
  from: AskedFolder,
  set: ReferenceSet | null,
  outcome: { readonly match: Match } | { readonly refusal: Refusal },
  sources: Readonly<Record<'infrared' | 'raman', string>>,
): MatchJson {
  const { spectrum } = asked;
  const match = 'match' in outcome ? outcome.match : null;
  const reference = (k: number): Reference => set!.references[k]!;
  const ranked = (r: Match['ranking'][number]) => ({
    family: r.family,
    material: reference(r.reference).material,
    kind: r.kind,
    likeness: three(r.likeness),
    reference: reference(r.reference).name,
  });
  return {
    format: 'retentate/match/1',
    spectrum: {
      name: asked.name,
      title: spectrum?.title ?? null,
      sha256: asked.sha256,
      technique: spectrum?.technique ?? null,
      from_per_cm: spectrum ? three(spectrum.axis[0]!) : null,
      to_per_cm: spectrum ? three(spectrum.axis.at(-1)!) : null,
      points: spectrum?.axis.length ?? null,
      taken: spectrum?.taken ?? [],
    },
    references: {
      folder: from.folder,
      used: set?.references.length ?? 0,
      families: set?.families.length ?? 0,
      skipped: from.skipped.map(({ name, refusal }) => ({
        name,
        why: refusal.why,
        message: refusal.message,
      })),
      set_aside: (match?.doubtful ?? []).map(({ reference: k, like }) => ({
        name: reference(k).name,
        family: reference(k).family,
        like,
      })),
    },
    answer: match?.answer ? ranked(match.answer) : null,
    cannot_tell: match?.cannotTell ?? null,
    refusal: 'refusal' in outcome ? outcome.refusal : null,
    evidence: match ? three(match.evidence) : null,
    threshold: match
      ? {
          evidence: three(match.threshold.evidence),
          false_accepts: match.threshold.falseAccepts,
          basis: match.threshold.basis,
        }
      : null,
    ranking: (match?.ranking ?? []).map((r, k) => ({ rank: k + 1, ...ranked(r), score: three(r.score) })),
    bands: match?.bands
      ? {
          family: match.bands.family,
          for: match.bands.found,
          against: {
            missing: match.bands.missing,
            unexplained: match.bands.unexplained.map(({ at, others }) => ({ at_per_cm: at, others })),
          },
          source: sources[match.technique],
        }
      : null,
    mixture: match?.mixture
      ? {
          parts: match.mixture.references.map((k, at) => ({
            material: reference(k).material,
            family: reference(k).family,
            share_of_signal: three(match.mixture!.shares[at]!),
          })),
          explained: three(match.mixture.explained),
        }
      : null,
  };
}
