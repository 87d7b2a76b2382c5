import type { FaceTable } from './face-table.ts';

/** Per face those it meets, of borders that are wanted; faces without any are left out. */
export function faceNeighbours(
  { borders: { a, b } }: Pick<FaceTable, 'borders'>,
  isWanted: (border: number) => boolean = () => true,
): ReadonlyMap<number, readonly number[]> {
  const neighbours = new Map<number, number[]>();
  const add = (from: number, to: number): void => {
    const list = neighbours.get(from);
    if (list) list.push(to);
    else neighbours.set(from, [to]);
  };
  for (let i = 0; i < a.length; i++) {
    if (!isWanted(i)) continue;
    add(a[i], b[i]);
    add(b[i], a[i]);
  }
  return neighbours;
}
