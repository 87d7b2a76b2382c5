import type { Bath } from './bath-bodies.ts';
import { everySecondLine, gradedAxis } from './graded-axis.ts';
import type { GridLines } from './grid-levels.ts';
import { multigridBytes } from './multigrid.ts';

export interface FieldGrid {
  readonly fine: GridLines;
  /** Every second line of `fine`. */
  readonly coarse: GridLines;
  /** Largest side of a cell at the part, m. */
  readonly spacingM: number;
  readonly cells: number;
  /** What the solution takes at its highest, bytes, triangles not counted. */
  readonly bytes: number;
}

const GROWTH = 1.2;
const MARGIN_CELLS = 2;

/**
 * The finest grid of about `mostCells` cells with even spacing over the box `low`…`high` (the part) and cells growing by
 * a fifth at most towards the walls. Throws RangeError when the part's box is empty.
 */
export function planGrid(
  bath: Pick<Bath, 'minM' | 'maxM'>,
  low: readonly number[],
  high: readonly number[],
  mostCells: number,
): FieldGrid {
  if (!(mostCells >= 512)) throw new RangeError(`planGrid: mostCells is ${mostCells}`);
  const axis = (n: 0 | 1 | 2, spacingM: number) =>
    gradedAxis({
      lowM: bath.minM[n],
      highM: bath.maxM[n],
      fineLowM: low[n] - MARGIN_CELLS * spacingM,
      fineHighM: high[n] + MARGIN_CELLS * spacingM,
      spacingM,
      growth: GROWTH,
    });
  const lines = (spacingM: number): GridLines => ({
    x: axis(0, spacingM),
    y: axis(1, spacingM),
    z: axis(2, spacingM),
  });
  const count = ({ x, y, z }: GridLines) => (x.length - 1) * (y.length - 1) * (z.length - 1);
  let fit = Math.max(bath.maxM[0] - bath.minM[0], bath.maxM[1] - bath.minM[1], bath.maxM[2] - bath.minM[2]);
  let tooFine = fit / 4096;
  for (let step = 0; step < 40; step++) {
    const middle = Math.sqrt(fit * tooFine);
    if (count(lines(middle)) <= mostCells) fit = middle;
    else tooFine = middle;
  }
  const fine = lines(fit);
  return {
    fine,
    coarse: { x: everySecondLine(fine.x), y: everySecondLine(fine.y), z: everySecondLine(fine.z) },
    spacingM: fit,
    cells: count(fine),
    bytes: fieldBytes(count(fine)),
  };
}

/**
 * Per cell: three conductances (float32), potential, step, residual and two vectors of the iteration (float64), and the
 * levels of the multigrid; a tenth on top for the surface.
 */
export function fieldBytes(cells: number): number {
  return Math.round(1.1 * (cells * (3 * 4 + 5 * 8) + multigridBytes(cells)));
}
