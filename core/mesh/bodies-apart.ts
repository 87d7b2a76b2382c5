import type { FaceTable } from '../faces/face-table.ts';
import { MOST_SHELLS, type ShellMeasure } from './measure-shells.ts';
import type { Finding } from './part-geometry.ts';
import type { Shells } from './shells.ts';

/**
 * The pieces of a part that touch no other, each with the bodies that hang together in it and their hollows. Empty where all is one
 * piece, and where it is not known: a torn surface may belong together, and of very many shells pairs are not compared.
 * @param strays shells that are no part of it, see find-problems.ts
 * @returns triangles of each, ascending, largest surface first
 */
export function bodiesApart(
  faces: Pick<FaceTable, 'faceOfTriangle'>,
  shells: Shells,
  measured: readonly ShellMeasure[],
  strays: ReadonlySet<number>,
  triangleAreas: Float64Array,
): Uint32Array[] {
  const real = measured.filter(({ shell }) => !strays.has(shell));
  if (shells.count > MOST_SHELLS || real.some(({ isOpen }) => isOpen)) return [];
  if (new Set(real.map(({ piece }) => piece)).size < 2) return [];
  const lists = new Map(real.map(({ piece }) => [piece, { triangles: [] as number[], area: 0 }]));
  for (let t = 0; t < triangleAreas.length; t++) {
    const shell = shells.ofFace[faces.faceOfTriangle[t]];
    const list = strays.has(shell) ? undefined : lists.get(measured[shell].piece);
    list?.triangles.push(t);
    if (list) list.area += triangleAreas[t];
  }
  return [...lists.values()]
    .sort((a, b) => b.area - a.area)
    .map(({ triangles }) => Uint32Array.from(triangles));
}

/** Said of pieces that touch no other; the largest is left unmarked. */
export function apartFinding(apart: readonly Uint32Array[]): Finding[] {
  if (apart.length < 2) return [];
  return [
    {
      code: 'bodies-apart',
      level: 'check',
      message: `The model has ${apart.length} pieces that do not touch each other: no current passes from one to the other, and each hangs by itself.`,
      remedy:
        'Make a part of each piece, in Part, or give every piece a pin of its own. Where the real part is welded or screwed together there, join it in the program that drew it.',
      triangles: Uint32Array.from(apart.slice(1).flatMap((piece) => [...piece])).sort(),
    },
  ];
}
