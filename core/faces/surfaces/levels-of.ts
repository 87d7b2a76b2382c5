/** Values further apart than that among some, counted up to `most`. Sorts them. */
export function levelsOf(values: Float64Array, apart: number, most: number): number {
  values.sort();
  let count = 1;
  let last = values[0];
  for (const value of values) {
    if (value - last < apart) continue;
    last = value;
    if (++count === most) break;
  }
  return count;
}
