import type { FacetRing } from './facet-rings.ts';
import type { FacetSides } from './facet-sides.ts';
import { dot, length3, type Vec3 } from './fit-vectors.ts';
import { circleThrough, type ProfileCircle, type ProfileCorner, type ProfileLine } from './profile-circle.ts';
import { LEAST_ZONES, MOST_UNEVEN } from './ring-kinds.ts';
import { isEven, isFeatured } from './ring-spans.ts';

/** Rings of which the rims lie on one circle beside the axis: zones of a sphere, torus, fillet or dome. */
export interface ProfileRun {
  readonly rings: ReadonlySet<FacetRing>;
  /** All its zones are as wide: as likely flats that were meant. */
  readonly even: boolean;
}

/** Share of a ring's own width by which corners of a profile may lie off a circle. */
const ON_PROFILE = 0.01;
/** Zones on one circle that are a fillet or a dome where they run into what is beside them as one does. */
const FEW_ZONES = 3;
/** Share by which the turn into what is beside a zone may be off … */
const TANGENT = 0.1;
/** … where some zones are as wide as others, which bevels are as well. */
const EXACTLY_TANGENT = 0.02;
/** Cosine between the axis and the normal of a plane across it. */
const ACROSS = 0.9998;

/**
 * Runs among rings about one axis. LEAST_ZONES on a circle are no chance. Three of different widths are none either where
 * the circle leads into the walls and ends beside them, or straight over the axis: a fillet, a dome. Others may be bevels.
 */
export function profileRuns(mesh: FacetSides, rings: readonly FacetRing[]): ProfileRun[] {
  if (rings.length < FEW_ZONES) return [];
  const [{ axis, point }] = rings;
  const lines = rings.map((ring): ProfileLine => {
    const way = Math.sign(dot(ring.axis, axis));
    const from = dot(
      ring.point.map((value, k) => value - point[k]),
      axis,
    );
    const [one, two] = ring.rims.map(({ radius, height }) => ({ radius, height: from + way * height }));
    return [one, two];
  });
  const widths = lines.map(([one, two]) => Math.hypot(one.radius - two.radius, one.height - two.height));
  const runs: ProfileRun[] = [];
  for (let i = 0; i < rings.length; i++) {
    for (let j = i + 1; j < rings.length; j++) {
      if (runs.some((run) => run.rings.has(rings[i]) && run.rings.has(rings[j]))) continue;
      const circle = circleThrough([...lines[i], ...lines[j]]);
      if (!circle) continue;
      // A wide ring beside narrow ones (a wall beside its fillet) is none of theirs, however near a circle it comes.
      const width = Math.min(widths[i], widths[j]);
      const isOn = lines.map(
        (line, k) =>
          Math.max(widths[k], widths[i], widths[j]) < MOST_UNEVEN * Math.min(widths[k], width) &&
          line.every((corner) => circle.misfit(corner) < ON_PROFILE * width),
      );
      const on = rings.filter((_, k) => isOn[k]);
      if (on.length < FEW_ZONES) continue;
      const zones = lines.filter((_, k) => isOn[k]);
      const spansRad = zones.map((zone) => circle.spanRad(zone));
      const run = { rings: new Set(on), even: isEven(spansRad) };
      if (on.length < LEAST_ZONES) {
        if (run.even) continue;
        const others = lines.filter((_, k) => !isOn[k]);
        const lookBeside = (corner: ProfileCorner): Vec2[] =>
          waysBeside(mesh, on, others, { axis, point }, corner, ON_PROFILE * width);
        const off = isFeatured(spansRad, false) ? EXACTLY_TANGENT : TANGENT;
        if (!runsIntoOthers(circle, zones, off, ON_PROFILE * width, lookBeside)) continue;
      }
      runs.push(run);
    }
  }
  return runs;
}

/** Along a profile: outward from the axis, and along it. */
type Vec2 = readonly [number, number];
const OUTWARD: Vec2 = [1, 0];

/** Whether zones in a row are tangent to what is beside them at both ends, or make a tip that lies square to the axis. */
function runsIntoOthers(
  circle: ProfileCircle,
  zones: readonly ProfileLine[],
  off: number,
  near: number,
  waysBeside: (corner: ProfileCorner) => readonly Vec2[],
): boolean {
  const isAt = (one: ProfileCorner, two: ProfileCorner): boolean =>
    Math.hypot(one.radius - two.radius, one.height - two.height) < near;
  const ends = zones.flatMap((zone, i) =>
    zone
      .filter((corner) => !zones.some((other, k) => k !== i && other.some((own) => isAt(own, corner))))
      .map((corner) => ({ corner, halfRad: circle.spanRad(zone) / 2 })),
  );
  if (ends.length !== 2) return false;
  const isTangent = ends.map(({ corner, halfRad }) =>
    waysBeside(corner).some((way) => circle.leanRad(corner, way) < off * halfRad),
  );
  return isTangent.every(Boolean) || ends.some(({ corner: { radius } }, i) => radius < near && isTangent[i]);
}

/** Ways in which the profile leads on from an end of a run. */
function waysBeside(
  mesh: FacetSides,
  run: readonly FacetRing[],
  others: readonly ProfileLine[],
  { axis, point }: Pick<FacetRing, 'axis' | 'point'>,
  corner: ProfileCorner,
  near: number,
): Vec2[] {
  const isThere = ({ radius, height }: ProfileCorner): boolean =>
    Math.hypot(radius - corner.radius, height - corner.height) < near;
  const ways = others
    .filter((line) => line.some(isThere))
    .map(([one, two]): Vec2 => [two.radius - one.radius, two.height - one.height]);
  const { vertices } = mesh.graph.indexed;
  const placeOf = (v: number): ProfileCorner => {
    const arm: Vec3 = [
      vertices[3 * v] - point[0],
      vertices[3 * v + 1] - point[1],
      vertices[3 * v + 2] - point[2],
    ];
    const height = dot(arm, axis);
    const off = arm.map((value, k) => value - height * axis[k]);
    return { radius: length3(off[0], off[1], off[2]), height };
  };
  const isAcross = (facet: number): boolean => {
    const at = 3 * mesh.triangles(facet)[0];
    return Math.abs(dot(mesh.graph.normals.subarray(at, at + 3), axis)) > ACROSS;
  };
  const isEnd = run.some(({ facets }) =>
    facets.some((facet) =>
      mesh
        .sides(facet)
        ?.some(({ from, to, beyond }) => isThere(placeOf(from)) && isThere(placeOf(to)) && isAcross(beyond)),
    ),
  );
  return corner.radius < near || isEnd ? [...ways, OUTWARD] : ways;
}
