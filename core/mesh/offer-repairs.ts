import { runsWhere } from '../faces/triangle-runs.ts';
import { sameWayDoubles } from './drop-triangles.ts';
import { gapSizes } from './fill-gaps.ts';
import { findCrossings } from './find-crossings.ts';
import type { Finding, Offer, PartGeometry } from './part-geometry.ts';
import { proposeWeld, type WeldProposal } from './weld-gaps.ts';

/** Gaps up to this share of the part are small: a drilled hole's mouth, not a missing side. */
const SMALL_GAP = 0.2;

/** Puts to each finding what can be done about it here. Nothing is done by it. Fused bodies are not offered to be fused. */
export function withOffers(geometry: PartGeometry, isFused = false): Finding[] {
  const weld = geometry.topology.openEdges > 0 ? proposeWeld(geometry) : undefined;
  const isDoubled =
    geometry.findings.some(({ code }) => code === 'duplicate-triangles') &&
    sameWayDoubles(geometry.positions).size > 0;
  const findings = isDoubled ? doublesFirst(geometry.findings) : geometry.findings;
  return findings.map((finding) => {
    const offers = offersFor(finding, geometry, weld, isDoubled).filter(
      (offer) => !isFused || !('fuseGap' in offer),
    );
    const said =
      finding.code !== 'open-edges'
        ? finding
        : weld?.isRounding
          ? tornByRounding(finding, geometry.topology.openEdges)
          : { ...finding, remedy: openRemedy(geometry) ?? finding.remedy };
    return offers.length > 0 ? { ...said, offers } : said;
  });
}

/**
 * Where triangles stand twice, that comes first, and nothing is said of edges and bodies that meet for it: what is left of them is
 * seen once the triangles count once.
 */
function doublesFirst(findings: readonly Finding[]): readonly Finding[] {
  const told = new Set(['duplicate-triangles', 'crowded-edges', 'bodies-meet']);
  return [
    ...findings.filter(({ code }) => code === 'duplicate-triangles'),
    ...findings.filter(({ code }) => !told.has(code)),
  ];
}

/** The surface has no hole: its corners were written down twice, rounded apart. */
function tornByRounding(finding: Finding, openEdges: number): Finding {
  return {
    ...finding,
    message: `${openEdges === 1 ? '1 edge is' : `${openEdges} edges are`} torn only because corners that belong together differ in their last digits. No surface is missing, but round faces count with their facets only, and inside and outside cannot be told apart.`,
    remedy: 'Join the torn edges: nothing moves by more than the rounding of the file.',
  };
}

/** What comes before a sheet is given its thickness, or why that is not done here; undefined where nothing is in the way. */
function openRemedy({ topology }: PartGeometry): string | undefined {
  if (topology.crowdedEdges > 0) {
    return 'Close the holes in the program that drew it, or go on if the gaps are too small to matter. A sheet that stands on another, so that three triangles meet at an edge, gets no thickness here: model it with its thickness.';
  }
  if (topology.sameWayEdges > 0) {
    return 'Close the holes in the program that drew it, or go on if the gaps are too small to matter. Of a sheet turn the triangles that face opposite ways first: then it can be given its thickness.';
  }
  return undefined;
}

function offersFor(
  { code, triangles }: Finding,
  geometry: PartGeometry,
  weld: WeldProposal | undefined,
  isDoubled: boolean,
): Offer[] {
  switch (code) {
    case 'open-edges':
      return gapOffers(geometry, weld);
    case 'turned-triangles':
    case 'inside-out':
      return [{ label: 'Turn them outwards', repair: { kind: 'turn' } }];
    case 'degenerate-triangles':
      return geometry.topology.collapsedTriangles > 0
        ? [{ label: 'Leave the lines out', repair: { kind: 'drop-lines' } }]
        : [];
    case 'duplicate-triangles':
      return isDoubled
        ? [{ label: 'Count them once', repair: { kind: 'drop-doubles' } }]
        : [{ label: 'Fuse the bodies', fuseGap: 0 }];
    case 'stray-bodies':
      return [
        { label: 'Leave them out', repair: { kind: 'drop', triangles: sourceRuns(geometry, triangles) } },
      ];
    case 'crowded-edges':
    case 'bodies-meet':
      return [{ label: 'Fuse the bodies', fuseGap: 0 }];
    default:
      return [];
  }
}

function gapOffers(geometry: PartGeometry, weld: WeldProposal | undefined): Offer[] {
  const offers: Offer[] = [];
  if (weld) {
    offers.push({
      label: weld.openEdges === 0 ? 'Join the torn edges' : `Join torn edges (${weld.openEdges} stay open)`,
      repair: { kind: 'weld', distance: weld.distance },
    });
  }
  if (weld?.openEdges === 0) return offers;
  const size = Math.hypot(...geometry.max.map((high, k) => high - geometry.min[k]));
  const sizes = gapSizes(geometry.positions);
  const small = sizes.filter((gap) => gap <= SMALL_GAP * size);
  const largest = small.at(-1);
  const isSheet = !weld && maybeSheet(geometry, small.length === sizes.length);
  if (isSheet) offers.push({ label: 'It is a sheet: give it a thickness', asks: 'sheet thickness' });
  if (largest !== undefined) {
    const gaps = small.length === 1 ? 'Close the small gap' : `Close ${small.length} small gaps`;
    offers.push({
      label: isSheet ? `${gaps} (a hole drilled in a sheet is none)` : gaps,
      repair: { kind: 'fill', size: largest },
    });
  }
  return offers;
}

/** Open along more than small gaps, and with two sides that can be told. */
function maybeSheet({ topology }: PartGeometry, isClosable: boolean): boolean {
  return !isClosable && topology.crowdedEdges === 0 && topology.sameWayEdges === 0;
}

/** The triangles of the file behind these of the mesh, as runs. */
function sourceRuns({ sourceTriangle, triangleCount }: PartGeometry, triangles: Uint32Array): number[] {
  const sources = new Set<number>();
  let most = triangleCount;
  for (const t of triangles) {
    const source = sourceTriangle ? sourceTriangle[t] : t;
    sources.add(source);
    if (source >= most) most = source + 1;
  }
  return runsWhere(most, (t) => sources.has(t));
}

/** A mesh of up to this many triangles is looked through for crossings without being asked. */
export const FEW_TO_CROSS = 60_000;

/** Steps of the coordinates by which triangles may run into each other: as drawn, and after a union has cut slivers off them. */
const CROSSING_STEPS = { drawn: 8, fused: 64 };

/** Looks for places where a body's surface runs through itself; undefined where there are none. */
export function crossingFinding(
  { positions, graph }: Pick<PartGeometry, 'positions' | 'graph'>,
  isFused = false,
): Finding | undefined {
  const shellOf = shellNumbers(graph.twin);
  const { triangles, cutShort } = findCrossings(
    positions,
    graph.indexed.triangles,
    (t) => shellOf[t],
    (isFused ? CROSSING_STEPS.fused : CROSSING_STEPS.drawn) * graph.noise,
  );
  if (triangles.length === 0) return undefined;
  let area = 0;
  let all = 0;
  for (const t of triangles) area += graph.triangleAreas[t];
  for (const own of graph.triangleAreas) all += own;
  const share = Number(((100 * area) / all).toPrecision(2));
  return {
    code: 'self-crossing',
    level: 'check',
    message: `The surface runs through itself at ${cutShort ? 'more than ' : ''}${triangles.length} triangles (${share} % of the area), so some of it is inside the metal and counted although no bath reaches it.`,
    remedy:
      'Unite the solids in the program that drew them and export again; what is too much is part of that share.',
    triangles,
  };
}

/** Per triangle a number that all triangles of its shell share: those that hang together over sound edges. */
function shellNumbers(twin: Int32Array): Int32Array {
  const shell = new Int32Array(twin.length / 3).fill(-1);
  const stack: number[] = [];
  for (let first = 0; first < shell.length; first++) {
    if (shell[first] >= 0) continue;
    shell[first] = first;
    stack.push(first);
    for (let t = stack.pop(); t !== undefined; t = stack.pop()) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const u = twin[h] < 0 ? -1 : (twin[h] / 3) | 0;
        if (u < 0 || shell[u] >= 0) continue;
        shell[u] = first;
        stack.push(u);
      }
    }
  }
  return shell;
}
