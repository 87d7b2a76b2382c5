import { FACE_KINDS } from '../faces/face-table.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { boreEnds, type BoreEnd } from '../faces/bore-ends.ts';
import type { RoundWall } from '../faces/round-wall.ts';
import { add, dot, scale, subtract, type Vec3 } from './vec3.ts';

/** A bore or a boss: the cylinder faces of one axis that border each other. Model units. */
export interface RoundPlace {
  readonly rows: readonly number[];
  readonly inward: boolean;
  readonly radius: number;
  readonly axis: Vec3;
  /** Middle of the axis between both ends. */
  readonly middle: Vec3;
  readonly depth: number;
  readonly area: number;
  /** [Against the axis, along it]; null for a boss. */
  readonly ends: readonly [BoreEnd, BoreEnd] | null;
}

const CYLINDER = FACE_KINDS.indexOf('cylinder');
/** Two halves of one bore agree in axis within 1° and in radius within 1 %. */
const LEAST_COSINE = Math.cos(Math.PI / 180);
const SAME = 0.01;
/** Less than this part of the full circle is a fillet or a notch, not a bore that holds a plug. */
const LEAST_ROUND = 0.8;
/** All full bores and bosses, with the triangles of each face they need; largest radius last. */
export function findRoundPlaces(geometry: PartGeometry): RoundPlace[] {
  const { faces, graph } = geometry;
  const parent = Int32Array.from({ length: faces.count }, (_, row) =>
    faces.kind[row] === CYLINDER ? row : -1,
  );
  const find = (row: number): number => {
    let root = row;
    while (parent[root] !== root) root = parent[root];
    return root;
  };
  const axisOf = (row: number): Vec3 => [
    faces.axis[3 * row],
    faces.axis[3 * row + 1],
    faces.axis[3 * row + 2],
  ];
  const pointOf = (row: number): Vec3 => [
    faces.point[3 * row],
    faces.point[3 * row + 1],
    faces.point[3 * row + 2],
  ];
  const oneCylinder = (a: number, b: number): boolean => {
    if (faces.inward[a] !== faces.inward[b]) return false;
    const radius = faces.size[a];
    if (Math.abs(faces.size[b] - radius) > SAME * radius) return false;
    const axis = axisOf(a);
    if (Math.abs(dot(axis, axisOf(b))) < LEAST_COSINE) return false;
    const between = subtract(pointOf(b), pointOf(a));
    const aside = subtract(between, scale(axis, dot(between, axis)));
    return Math.hypot(...aside) <= 2 * SAME * radius + 1e-3 * radius;
  };
  for (let i = 0; i < faces.borders.a.length; i++) {
    const a = faces.borders.a[i];
    const b = faces.borders.b[i];
    if (parent[a] < 0 || parent[b] < 0 || !oneCylinder(a, b)) continue;
    parent[find(b)] = find(a);
  }
  const low = new Float64Array(faces.count).fill(Infinity);
  const high = new Float64Array(faces.count).fill(-Infinity);
  const rootOf = Int32Array.from(parent, (p, row) => (p < 0 ? -1 : find(row)));
  const { triangles, vertices } = graph.indexed;
  for (let t = 0; t < geometry.triangleCount; t++) {
    const root = rootOf[faces.faceOfTriangle[t]];
    if (root < 0) continue;
    for (let k = 0; k < 3; k++) {
      const v = 3 * triangles[3 * t + k];
      const along =
        (vertices[v] - faces.point[3 * root]) * faces.axis[3 * root] +
        (vertices[v + 1] - faces.point[3 * root + 1]) * faces.axis[3 * root + 1] +
        (vertices[v + 2] - faces.point[3 * root + 2]) * faces.axis[3 * root + 2];
      if (along < low[root]) low[root] = along;
      if (along > high[root]) high[root] = along;
    }
  }
  const members = new Map<number, number[]>();
  rootOf.forEach((root, row) => {
    if (root < 0) return;
    const list = members.get(root);
    if (list) list.push(row);
    else members.set(root, [row]);
  });
  const places: Omit<RoundPlace, 'ends'>[] = [];
  const walls: RoundWall[] = [];
  for (const [root, rows] of members) {
    const radius = faces.size[root];
    const depth = high[root] - low[root];
    const area = rows.reduce((sum, row) => sum + faces.area[row], 0);
    if (!(depth > 0) || area < LEAST_ROUND * 2 * Math.PI * radius * depth) continue;
    const axis = axisOf(root);
    const middle = add(pointOf(root), scale(axis, (low[root] + high[root]) / 2));
    places.push({
      rows,
      inward: faces.inward[root] === 1,
      radius,
      axis,
      middle,
      depth,
      area,
    });
    walls.push({ axis, onAxis: pointOf(root), radius, low: low[root], high: high[root] });
  }
  const ends = boreEnds(
    geometry,
    walls.filter((_, i) => places[i].inward),
  );
  let bore = 0;
  const found = places.map((place) => ({ ...place, ends: place.inward ? ends[bore++] : null }));
  return found.sort((a, b) => a.radius - b.radius || a.rows[0] - b.rows[0]);
}
