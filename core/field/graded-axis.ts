/**
 * The lines of one axis of a tensor-product grid: even spacing over the part, cells growing evenly towards the walls.
 * The number of cells is always even, so that every second line makes the coarser grid of the error estimate.
 */
export interface AxisRequest {
  readonly lowM: number;
  readonly highM: number;
  /** Where the spacing is the fine one. Cut to the axis. */
  readonly fineLowM: number;
  readonly fineHighM: number;
  readonly spacingM: number;
  /** Largest ratio of two neighbouring cells. */
  readonly growth: number;
}

/** Ascending lines, first `lowM`, last `highM`. Throws RangeError for an axis or spacing that is not positive. */
export function gradedAxis(request: AxisRequest): Float64Array {
  const { lowM, highM, spacingM, growth } = request;
  if (!(highM > lowM)) throw new RangeError(`gradedAxis: highM ${highM} is not above lowM ${lowM}`);
  if (!(spacingM > 0)) throw new RangeError(`gradedAxis: spacingM is ${spacingM}`);
  if (!(growth >= 1)) throw new RangeError(`gradedAxis: growth is ${growth}`);
  let fineLowM = Math.min(Math.max(request.fineLowM, lowM), highM);
  let fineHighM = Math.min(Math.max(request.fineHighM, fineLowM), highM);
  if (fineLowM - lowM < 0.75 * spacingM) fineLowM = lowM;
  if (highM - fineHighM < 0.75 * spacingM) fineHighM = highM;
  const fineCount = Math.max(2, 2 * Math.round((fineHighM - fineLowM) / spacingM / 2));
  const fineM = fineHighM > fineLowM ? (fineHighM - fineLowM) / fineCount : spacingM;
  const before = growingCells(fineLowM - lowM, fineM, growth).reverse();
  const after = growingCells(highM - fineHighM, fineM, growth);
  const inner = fineHighM > fineLowM ? Array<number>(fineCount).fill(fineM) : [];
  const sizes = [...before, ...inner, ...after];
  const lines = new Float64Array(sizes.length + 1);
  lines[0] = lowM;
  for (let i = 0; i < sizes.length; i++) lines[i + 1] = lines[i] + sizes[i];
  lines[sizes.length] = highM;
  return lines;
}

/** Cells that fill `lengthM` exactly, each larger than the one before by one ratio not above `growth`; even in number. */
function growingCells(lengthM: number, firstM: number, growth: number): number[] {
  if (!(lengthM > 0)) return [];
  const reach = (count: number, ratio: number) => {
    let sum = 0;
    let size = firstM;
    for (let i = 0; i < count; i++) sum += size *= ratio;
    return sum;
  };
  let count = 2;
  while (reach(count, growth) < lengthM) count += 2;
  let low = 0.2;
  let high = growth;
  for (let step = 0; step < 80; step++) {
    const ratio = (low + high) / 2;
    if (reach(count, ratio) < lengthM) low = ratio;
    else high = ratio;
  }
  const sizes: number[] = [];
  let size = firstM;
  for (let i = 0; i < count; i++) sizes.push((size *= (low + high) / 2));
  return sizes;
}

/** Every second line. Throws RangeError when the number of cells is odd. */
export function everySecondLine(lines: Float64Array): Float64Array {
  const cells = lines.length - 1;
  if (cells % 2 !== 0) throw new RangeError(`everySecondLine: lines has ${cells} cells, not an even number`);
  return lines.filter((_, i) => i % 2 === 0);
}

/** Cell that holds `x`, lower line included; −1 below the first line, the number of cells from the last line on. */
export function cellAt(lines: Float64Array, x: number): number {
  const last = lines.length - 1;
  if (x < lines[0]) return -1;
  if (x >= lines[last]) return last;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (x < lines[middle]) high = middle;
    else low = middle;
  }
  return low;
}
