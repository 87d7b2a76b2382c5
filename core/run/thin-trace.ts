/**
 * Indices to draw of a long trace: for each of `buckets` equal spans of time the first and last point and those where a
 * column is smallest and largest, so that no spike is lost. Ascending, without repeats; NaN is passed over. O(n · columns).
 */
export function thinTrace(
  tS: Float64Array,
  columns: readonly Float64Array[],
  fromS: number,
  toS: number,
  buckets: number,
): Uint32Array {
  if (!(Number.isInteger(buckets) && buckets > 0)) throw new RangeError(`thinTrace: buckets is ${buckets}`);
  if (!(fromS <= toS)) throw new RangeError(`thinTrace: fromS is ${fromS}, after toS ${toS}`);
  columns.forEach((column, i) => {
    if (column.length !== tS.length)
      throw new RangeError(`thinTrace: column ${i} has ${column.length} of ${tS.length}`);
  });
  // One point beyond each side, so that lines run on to the edge of the picture.
  const first = Math.max(0, firstAtOrAfter(tS, fromS) - 1);
  let end = firstAtOrAfter(tS, toS);
  while (end < tS.length && tS[end]! <= toS) end++;
  end = Math.min(tS.length, end + 1);
  const perBucket = 2 + 2 * columns.length;
  if (end - first <= buckets * perBucket)
    return Uint32Array.from({ length: end - first }, (_, i) => first + i);
  const kept = new Uint32Array((buckets + 2) * perBucket);
  let count = 0;
  const span = (toS - fromS) / buckets;
  const picked: number[] = [];
  let from = first;
  while (from < end) {
    const bucket = Math.min(buckets, Math.max(-1, Math.floor((tS[from]! - fromS) / span)));
    const limit = bucket < 0 ? fromS : bucket >= buckets ? Infinity : fromS + (bucket + 1) * span;
    let to = from + 1;
    while (to < end && tS[to]! < limit) to++;
    picked.length = 0;
    picked.push(from, to - 1);
    for (const column of columns) {
      let low = -1;
      let high = -1;
      for (let i = from; i < to; i++) {
        const value = column[i]!;
        if (Number.isNaN(value)) continue;
        if (low < 0 || value < column[low]!) low = i;
        if (high < 0 || value > column[high]!) high = i;
      }
      if (low >= 0) picked.push(low, high);
    }
    picked.sort((a, b) => a - b);
    for (const index of picked) if (count === 0 || kept[count - 1] !== index) kept[count++] = index;
    from = to;
  }
  return kept.slice(0, count);
}

function firstAtOrAfter(tS: Float64Array, seconds: number): number {
  let low = 0;
  let high = tS.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (tS[middle]! < seconds) low = middle + 1;
    else high = middle;
  }
  return low;
}
