import { faceNeighbours } from './face-neighbours.ts';
import type { FaceTable } from './face-table.ts';

/**
 * The given faces and all that can be reached from them over borders that turn by less than `maxTurnRad`, either way:
 * a plane with its fillets and what they run into.
 *
 * @returns rows, ascending
 */
export function growSmooth(
  faces: Pick<FaceTable, 'count' | 'borders'>,
  rows: Iterable<number>,
  maxTurnRad: number,
): number[] {
  const { turnRad } = faces.borders;
  const neighbours = faceNeighbours(faces, (border) => Math.abs(turnRad[border]) < maxTurnRad);
  const reached = new Set<number>();
  const waiting = [...rows];
  for (let row = waiting.pop(); row !== undefined; row = waiting.pop()) {
    if (!(Number.isInteger(row) && row >= 0 && row < faces.count)) {
      throw new RangeError(`rows: no face in row ${row}, there are ${faces.count}`);
    }
    if (reached.has(row)) continue;
    reached.add(row);
    waiting.push(...(neighbours.get(row) ?? []));
  }
  return [...reached].sort((x, y) => x - y);
}
