import type { CadFaces } from '../faces/cad-faces.ts';
import type { RepairStep } from '../mesh/apply-repairs.ts';
import type { Finding, PartGeometry } from '../mesh/part-geometry.ts';
import { thickForSizeFinding, tooThickFinding } from '../mesh/sheet-too-thick.ts';

/** What there is to say once a sheet has been given its thickness; nothing where no sheet has. */
export function thickenedFindings(
  geometry: PartGeometry,
  { positions, cad }: { readonly positions: Float32Array; readonly cad?: CadFaces },
  steps: readonly RepairStep[],
): Finding[] {
  const given = steps.flatMap(({ repair, trianglesAdded }) =>
    repair.kind === 'thicken' && trianglesAdded > 0 ? [repair.thickness] : [],
  );
  if (given.length === 0) return [];
  const tooThick =
    tooThickFinding(geometry, positions.length / 9) ?? thickForSizeFinding(Math.max(...given), positions);
  return [...(tooThick ? [tooThick] : []), ...(cad ? facetedFinding(cad) : [])];
}

/** What a CAD file says of a face without thickness is true of neither of its sides: the facets stand for all faces then. */
function facetedFinding({ faces }: CadFaces): Finding[] {
  if (faces.every(({ kind }) => kind === 'plane')) return [];
  return [
    {
      code: 'cad-by-facets',
      level: 'note',
      message:
        'With the sheet given its thickness, the exact areas of the CAD file no longer hold: its round faces are worked out from their facets, within a range.',
      remedy: 'For exact areas give the sheet its thickness in the program that drew it, and export again.',
      triangles: new Uint32Array(),
    },
  ];
}
