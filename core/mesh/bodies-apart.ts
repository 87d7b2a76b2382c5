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
  const numberOf = new Map<number, number>();
  for (const { piece } of real) if (!numberOf.has(piece)) numberOf.set(piece, numberOf.size);
  // Per shell its piece, −1 for a stray.
  const ofShell = Int32Array.from(measured, ({ shell, piece }) =>
    strays.has(shell) ? -1 : numberOf.get(piece)!,
  );
  const areas = new Float64Array(numberOf.size);
  const sizes = new Uint32Array(numberOf.size);
  const { faceOfTriangle } = faces;
  const total = triangleAreas.length;
  // A face's triangles mostly come in runs.
  for (let t = 0; t < total;) {
    const face = faceOfTriangle[t];
    const piece = ofShell[shells.ofFace[face]];
    const first = t;
    let sum = piece >= 0 ? areas[piece] : 0;
    for (; t < total && faceOfTriangle[t] === face; t++) sum += triangleAreas[t];
    if (piece < 0) continue;
    areas[piece] = sum;
    sizes[piece] += t - first;
  }
  const lists = Array.from(sizes, (size) => new Uint32Array(size));
  sizes.fill(0);
  for (let t = 0; t < total;) {
    const face = faceOfTriangle[t];
    const piece = ofShell[shells.ofFace[face]];
    const list = piece >= 0 ? lists[piece] : undefined;
    let at = piece >= 0 ? sizes[piece] : 0;
    for (; t < total && faceOfTriangle[t] === face; t++) if (list) list[at++] = t;
    if (piece >= 0) sizes[piece] = at;
  }
  return [...lists.keys()].sort((a, b) => areas[b] - areas[a]).map((piece) => lists[piece]);
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
      triangles: inOneList(apart.slice(1)),
    },
  ];
}

/** Lists without a number in common, each ascending, as one that is. */
function inOneList(lists: readonly Uint32Array[]): Uint32Array {
  const all = new Uint32Array(lists.reduce((sum, { length }) => sum + length, 0));
  // Mostly one follows upon the other in the file.
  const filled = lists.filter(({ length }) => length > 0).sort((one, two) => one[0] - two[0]);
  if (filled.every((list, i) => i === 0 || filled[i - 1].at(-1)! < list[0])) {
    let at = 0;
    for (const list of filled) {
      all.set(list, at);
      at += list.length;
    }
    return all;
  }
  const end = lists.reduce((most, list) => Math.max(most, (list.at(-1) ?? -1) + 1), 0);
  const isIn = new Uint8Array(end);
  for (const list of lists) for (const t of list) isIn[t] = 1;
  for (let t = 0, at = 0; t < end; t++) if (isIn[t] === 1) all[at++] = t;
  return all;
}
