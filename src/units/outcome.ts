/**
 * The second kind of failure: data or a person that cannot be served. A refusal carries facts; each door words it.
 * (Misuse by a programmer throws RangeError; machine failure is thrown and caught once per door.)
 */
export type Outcome<T, R extends Refusal = Refusal> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly refusal: R };

/** `why` is a short fixed code in kebab-case; `message` one sentence: what, where, what to do. */
export interface Refusal {
  readonly why: string;
  readonly message: string;
}

export const done = <T>(value: T): { readonly ok: true; readonly value: T } => ({ ok: true, value });
export const refused = <R extends Refusal>(refusal: R): { readonly ok: false; readonly refusal: R } => ({
  ok: false,
  refusal,
});
