import type { Result } from '../../core/result.ts';

/** The value of a result that has to be there; throws with the failure's code otherwise. */
export function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return result.value;
}
