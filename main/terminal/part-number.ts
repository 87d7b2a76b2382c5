import { failure, type Failure } from '../../core/result.ts';

/**
 * What is wrong with the part that an option names, or leaves out; undefined where nothing is.
 *
 * @param named from 1; undefined where the command line gives none
 * @param thing what is named of the part, as on the command line: f3, 1
 * @param said the same in a sentence: f3, void 1
 */
export function partNumberFailure(
  option: string,
  named: number | undefined,
  partCount: number,
  { code, thing, said }: { readonly code: string; readonly thing: string; readonly said: string },
): { readonly ok: false; readonly error: Failure } | undefined {
  if (named === undefined && partCount > 1) {
    return failure(
      code,
      `--${option}: there are ${partCount} parts, and ${said} could be in any of them.`,
      `Put the part’s number before it: 1:${thing}.`,
    );
  }
  if (named !== undefined && named > partCount) {
    return failure(
      'part-unknown',
      `--${option}: there is no part ${named}.`,
      partCount === 1 ? 'There is one part.' : `Parts are numbered 1 to ${partCount} in the order given.`,
    );
  }
  return undefined;
}
