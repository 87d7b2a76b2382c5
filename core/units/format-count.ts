/** Between thousands, as ISO 80000-1 has it: a comma or a point is a decimal sign somewhere. Narrow, and no line breaks there. */
const THOUSANDS = '\u202f';

/** A number of things: in groups of three from 10 000 on. Throws RangeError for what is no whole number. */
export function formatCount(count: number): string {
  if (!Number.isSafeInteger(count)) throw new RangeError(`formatCount: count is ${count}`);
  const digits = String(count);
  return Math.abs(count) < 10_000 ? digits : digits.replace(/\B(?=(\d{3})+$)/g, THOUSANDS);
}
