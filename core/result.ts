/**
 * What can go wrong in a way the user can do something about, as a value. `message` is one sentence with the
 * cause, `remedy` one sentence with what to do. A caller's bug is not a Failure: it throws RangeError.
 */
export interface Failure {
  /** Stable, kebab-case, for tests and the terminal's JSON. */
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

export type Result<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: Failure };

export function success<T>(value: T): Result<T> {
  return { ok: true, value };
}

export function failure(code: string, message: string, remedy: string): { ok: false; error: Failure } {
  return { ok: false, error: { code, message, remedy } };
}
