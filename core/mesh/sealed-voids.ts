import type { FaceTable } from '../faces/face-table.ts';
import type { ShellMeasure } from './measure-shells.ts';
import type { SealedVoid } from './part-geometry.ts';
import type { Shells } from './shells.ts';

/** The hollows without a way out, one a closed inner shell. */
export function sealedVoids(
  triangleAreas: Float64Array,
  faces: Pick<FaceTable, 'faceOfTriangle'>,
  shells: Shells,
  measured: readonly ShellMeasure[],
  sourceTriangle?: Uint32Array,
): SealedVoid[] {
  const cavities = measured.filter(({ role }) => role === 'cavity');
  if (cavities.length === 0) return [];
  const shellOf = (t: number): number => shells.ofFace[faces.faceOfTriangle[t]];
  const sourceOf = (t: number): number => (sourceTriangle ? sourceTriangle[t] : t);
  const members = new Map(cavities.map(({ shell }) => [shell, [] as number[]]));
  /** The one shell in which a triangle of the file appears, or -1 for several. */
  const homeOf = new Map<number, number>();
  for (let t = 0; t < triangleAreas.length; t++) {
    const shell = shellOf(t);
    members.get(shell)?.push(t);
    if (!sourceTriangle) continue;
    const home = homeOf.get(sourceOf(t));
    if (home === undefined) homeOf.set(sourceOf(t), shell);
    else if (home !== shell) homeOf.set(sourceOf(t), -1);
  }
  return cavities.map(({ shell, volume }) => {
    const own = members.get(shell)!;
    const alone = own.find((t) => !sourceTriangle || homeOf.get(sourceOf(t)) === shell);
    return {
      triangles: Uint32Array.from(own),
      area: own.reduce((sum, t) => sum + triangleAreas[t], 0),
      volume: Math.abs(volume),
      anchor: sourceOf(alone ?? own[0]),
    };
  });
}
