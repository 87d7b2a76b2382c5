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
  return [...(tooThick ? [tooThick] : []), ...(cad ? facetedFinding(geometry) : [])];
}

/** What a CAD file says of a face without thickness is carried over to its sides where it can be; the facets stand for the rest. */
function facetedFinding({ facets, faces }: PartGeometry): Finding[] {
  const { low = faces.area, high = faces.area } = facets ?? {};
  const ranged = high.reduce((count, most, f) => count + (most - low[f] > 1e-9 * most ? 1 : 0), 0);
  if (ranged === 0) return [];
  const are = ranged === 1 ? 'is' : 'are';
  return [
    {
      code: 'cad-by-facets',
      level: 'note',
      message: `With the sheet given its thickness, the areas of ${faces.count - ranged} of its ${faces.count} faces are exact. The other${ranged === 1 ? ' one' : 's'} ${are} worked out from ${ranged === 1 ? 'its' : 'their'} facets, within a range.`,
      remedy:
        'For exact areas of all of them give the sheet its thickness in the program that drew it, and export again.',
      triangles: new Uint32Array(),
    },
  ];
}
