import { edgeTurns } from '../faces/edge-turns.ts';
import { CREASE_RAD } from '../faces/flat-facets.ts';
import { FLAT_RAD } from '../faces/surface-graph.ts';
import { edgeLength } from '../mesh/edge-length.ts';
import { fuseBodies, type FusedMesh } from '../mesh/fuse-bodies.ts';
import type { Finding, PartGeometry } from '../mesh/part-geometry.ts';
import type { SolidKit } from '../mesh/solid-kit.ts';
import type { SourcedMesh } from '../mesh/source-triangles.ts';

const NEAR = 'bodies-near';
/** What lies between bodies is told from this share of the area on. */
const LEAST_SHARE = 1e-3;
/** Facets are as deep as this share of the length of all smooth edges has it: a few long ones do not count. */
const MOSTLY = 0.9;
/** So much deeper, for what rounding adds. */
const ROOM = 1.1;
/** More triangles are not fused a second time. */
const MOST_TRIANGLES = 200_000;

/**
 * Bodies of a mesh that touch in curved faces, a pipe cut to sit on another, keep apart by what their facets are deep: both sides of the slit
 * count although no bath is between them. Found by fusing once more with that gap.
 *
 * @param mesh before fusing
 * @param fused with `gap`, and what was measured of it
 */
export function nearBodiesFinding(
  mesh: SourcedMesh,
  fused: Pick<FusedMesh, 'removedArea' | 'bodiesBefore'>,
  gap: number,
  geometry: PartGeometry,
  kit: SolidKit,
): Finding | undefined {
  if (fused.bodiesBefore < 2 || mesh.positions.length / 9 > MOST_TRIANGLES) return undefined;
  const deep = ROOM * facetDepth(geometry);
  if (!(deep > gap)) return undefined;
  const again = fuseBodies(mesh, deep, kit);
  if (!again.ok) return undefined;
  const between = again.value.removedArea - fused.removedArea;
  if (!(between > LEAST_SHARE * geometry.area)) return undefined;
  const share = Number(((100 * between) / geometry.area).toPrecision(2));
  return {
    code: NEAR,
    level: 'check',
    message: `Bodies that meet in curved faces are kept apart by their facets: ${share} % of the area lies between them, nearer than the facets are deep, and counts.`,
    remedy:
      'If they are welded or pressed together there, count it as touching. Where the real part has a slit that the bath gets into, leave it.',
    triangles: new Uint32Array(),
    offers: [{ label: 'Count it as touching', fuseGap: deep }],
  };
}

/** The gap that is offered by that finding, model units. */
export function nearBodiesGap(findings: readonly Finding[]): number | undefined {
  const offers = findings.find(({ code }) => code === NEAR)?.offers ?? [];
  return offers.flatMap((offer) => ('fuseGap' in offer ? [offer.fuseGap] : []))[0];
}

/** How far the middles of facets lie under the surface they are drawn of, model units; 0 where nothing is curved. */
export function facetDepth({ graph }: Pick<PartGeometry, 'graph'>): number {
  const { indexed, twin, triangleAreas } = graph;
  const turns = edgeTurns(graph);
  const depths: { readonly depth: number; readonly length: number }[] = [];
  let total = 0;
  for (let h = 0; h < twin.length; h++) {
    const turn = Math.abs(turns[h]);
    if (twin[h] < h || !(turn > FLAT_RAD && turn < CREASE_RAD)) continue;
    const length = edgeLength(indexed, h);
    // An arc's sagitta over its chord: an eighth of chord times turn. The two triangles are half as wide as both facets.
    const across = (triangleAreas[(h / 3) | 0] + triangleAreas[(twin[h] / 3) | 0]) / length;
    depths.push({ depth: (across * turn) / 8, length });
    total += length;
  }
  depths.sort((one, two) => one.depth - two.depth);
  let gone = 0;
  for (const { depth, length } of depths) {
    gone += length;
    if (gone >= MOSTLY * total) return depth;
  }
  return 0;
}
