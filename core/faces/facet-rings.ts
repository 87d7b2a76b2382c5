import { direction, rowThrough, type FacetRow } from './facet-rows.ts';
import type { FacetSide, FacetSides } from './facet-sides.ts';
import { dot, frame, unit, type Vec3 } from './fit-vectors.ts';
import { leastSquares } from './least-squares.ts';
import { symmetricEigen } from './symmetric-eigen.ts';

/** Facets of one cylinder or cone, one beside the other round its axis. */
export interface FacetRing {
  /** In order round the axis. */
  readonly facets: readonly number[];
  /** Angle about the axis that each of them spans, rad. */
  readonly spansRad: readonly number[];
  /** Sides between them, one fewer than facets where the ring is open. */
  readonly sides: readonly FacetSide[];
  readonly closed: boolean;
  /** An open ring that runs into what is beside it at both ends as a round does that is tangent to it. */
  readonly tangent: boolean;
  readonly axis: Vec3;
  readonly point: Vec3;
  /** Of both rims, `height` along `axis` from `point`. */
  readonly rims: readonly [Rim, Rim];
}

export interface Rim {
  readonly radius: number;
  /** NaN where the rim is no circle across the axis. */
  readonly height: number;
}

/** Corners are on the circle within this share of its radius. */
const ON_CIRCLE = 3e-3;
/** … and within this share of the facets' sagitta. */
const ON_ARC = 0.15;
/** Directions nearer than this are one: a cylinder's rulings. */
const PARALLEL_RAD = 2e-3;
/** Share by which the turn into a tangent face may be off. */
const TANGENT = 0.1;
/** … of so few facets that bevels may lie so by chance. */
const FEW = 3;
const FEW_TANGENT = 0.04;

/**
 * Rings that the row of facets makes which leads from `facet` over its side `start`, and back the other way.
 *
 * @param gone facets of the row are added to it
 */
export function ringsThrough(
  mesh: FacetSides,
  facet: number,
  start: FacetSide,
  gone?: Set<number>,
): FacetRing[] {
  // A four-sided facet is left by the side across; of a cone's triangle the next side meets the first in the cone's tip.
  return [undefined, start.from, start.to].flatMap((tip) => {
    const row = rowThrough(mesh, facet, start, tip, gone);
    return row ? ringsOf(mesh, row) : [];
  });
}

/** The whole of a closed row, or else its longest stretches on one cylinder or cone. */
function ringsOf(mesh: FacetSides, row: FacetRow): FacetRing[] {
  const { sides, between, closed } = row;
  if (closed) {
    const whole = onCone(mesh, row);
    if (whole) return [whole];
  }
  const count = sides.length;
  const total = closed ? 2 * count : count;
  const rings: FacetRing[] = [];
  let reached = 0;
  for (let from = 0; from < (closed ? count : count - 2); from++) {
    let longest: FacetRing | undefined;
    let end = from + 3;
    for (; end <= total && end - from <= count; end++) {
      const at = (i: number): number => (from + i) % count;
      const ring = onCone(mesh, {
        sides: Array.from({ length: end - from }, (_, i) => sides[at(i)]),
        between: Array.from({ length: end - from - 1 }, (_, i) => between[at(i)]),
        closed: false,
      });
      if (!ring) break;
      longest = ring;
    }
    // A stretch inside the one before says nothing new.
    if (longest && end > reached) {
      rings.push(longest);
      reached = end;
    }
  }
  return rings;
}

/** The ring that a row is, or undefined where its sides do not all lie on one cylinder or cone. */
function onCone(mesh: FacetSides, { sides: rulings, between, closed }: FacetRow): FacetRing | undefined {
  if (rulings.length < 3) return undefined;
  const { vertices } = mesh.graph.indexed;
  const at = (v: number): Vec3 => [vertices[3 * v], vertices[3 * v + 1], vertices[3 * v + 2]];
  // All the same way: neighbours lie within a few tens of degrees of one another.
  const lines: { readonly low: Vec3; readonly high: Vec3; readonly along: Vec3 }[] = [];
  for (const side of rulings) {
    const [low, high] = [at(side.from), at(side.to)];
    const along = direction(mesh, side);
    const before = lines.at(-1);
    lines.push(
      before && dot(before.along, along) < 0
        ? { low: high, high: low, along: [-along[0], -along[1], -along[2]] }
        : { low, high, along },
    );
  }
  const axis = axisOf(lines.map(({ along }) => along));
  if (!axis) return undefined;
  const [u, v, w] = frame(axis);
  const points = lines.flatMap(({ low, high }) =>
    [low, high].map((p) => ({ x: dot(p, u), y: dot(p, v), z: dot(p, w) })),
  );
  const middle = points.reduce((sum, { z }) => sum + z / points.length, 0);
  const fit = leastSquares(5, (add) => {
    for (const { x, y, z } of points) add([2 * x, 2 * y, 1, z - middle, (z - middle) ** 2], x * x + y * y);
  });
  const polar = points.map(({ x, y, z }) => ({
    z: z - middle,
    radius: Math.hypot(x - fit[0], y - fit[1]),
    azimuth: Math.atan2(y - fit[1], x - fit[0]),
  }));
  const slope = leastSquares(2, (add) => {
    for (const { z, radius } of polar) add([1, z], radius);
  });
  const largest = Math.max(...polar.map(({ radius }) => radius));
  const tolerance = Math.max(ON_CIRCLE * largest, 4 * mesh.graph.noise);
  if (polar.some(({ z, radius }) => !(Math.abs(radius - slope[0] - slope[1] * z) < tolerance)))
    return undefined;
  // The azimuth of a ruling is read at its wider end: at a tip there is none.
  const azimuths = lines.map((_, i) =>
    polar[2 * i].radius > polar[2 * i + 1].radius ? polar[2 * i].azimuth : polar[2 * i + 1].azimuth,
  );
  const spansRad = spansOf(azimuths, closed);
  if (!spansRad) return undefined;
  // Fine facets lie near one circle as they lie near any: what counts is how far they would be off it as chords.
  const sagitta = 1 - Math.cos(spansRad.reduce((sum, span) => sum + span, 0) / spansRad.length / 2);
  const near = Math.max(ON_ARC * sagitta * largest, 4 * mesh.graph.noise);
  if (polar.some(({ z, radius }) => !(Math.abs(radius - slope[0] - slope[1] * z) < near))) return undefined;
  const point = [0, 1, 2].map((k) => fit[0] * u[k] + fit[1] * v[k] + middle * w[k]) as unknown as Vec3;
  const rim = (end: 0 | 1): Rim => {
    const own = polar.filter((_, i) => i % 2 === end);
    const heights = own.map(({ z }) => z);
    const isAcross = Math.max(...heights) - Math.min(...heights) < tolerance;
    return { radius: own[0].radius, height: isAcross ? heights[0] : NaN };
  };
  return {
    facets: between,
    spansRad,
    sides: closed ? rulings : rulings.slice(1, -1),
    closed,
    tangent:
      !closed && isTangent(rulings, spansRad) && isTangent([...rulings].reverse(), [...spansRad].reverse()),
    axis: w,
    point,
    rims: [rim(0), rim(1)],
  };
}

/** Whether the first side turns as the first facet's share of the turn to the second. */
function isTangent(rulings: readonly FacetSide[], spansRad: readonly number[]): boolean {
  const wanted = (Math.abs(rulings[1].turnRad) * spansRad[0]) / (spansRad[0] + spansRad[1]);
  const share = spansRad.length <= FEW ? FEW_TANGENT : TANGENT;
  return Math.abs(rulings[0].turnRad * Math.sign(rulings[1].turnRad) - wanted) < share * wanted;
}

/** The direction that all rulings make one angle with. */
function axisOf(along: readonly Vec3[]): Vec3 | undefined {
  const mean = [0, 1, 2].map((k) => along.reduce((sum, one) => sum + one[k] / along.length, 0));
  const covariance = new Float64Array(9);
  let most = 0;
  for (const one of along) {
    const off = one.map((value, k) => value - mean[k]);
    most = Math.max(most, Math.hypot(off[0], off[1], off[2]));
    for (let k = 0; k < 9; k++) covariance[k] += off[Math.floor(k / 3)] * off[k % 3];
  }
  if (most < PARALLEL_RAD) return unit(mean);
  const { values, vectors } = symmetricEigen(covariance, 3);
  // Their tips lie on a circle across the axis: two wide directions, one narrow.
  if (!(values[0] < 1e-3 * values[1])) return undefined;
  return [vectors[0][0], vectors[0][1], vectors[0][2]];
}

/** Steps from one azimuth to the next, all of one sign and once round at most. */
function spansOf(azimuths: readonly number[], closed: boolean): number[] | undefined {
  const count = closed ? azimuths.length : azimuths.length - 1;
  const steps = Array.from({ length: count }, (_, i) => {
    const step = azimuths[(i + 1) % azimuths.length] - azimuths[i];
    return step - 2 * Math.PI * Math.round(step / (2 * Math.PI));
  });
  const sign = Math.sign(steps[0]);
  if (sign === 0 || steps.some((step) => step * sign <= 0)) return undefined;
  const spans = steps.map(Math.abs);
  const round = spans.reduce((sum, span) => sum + span, 0) / (2 * Math.PI);
  return (closed ? Math.abs(round - 1) < 1e-3 : round < 1) ? spans : undefined;
}
