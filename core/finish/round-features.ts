import { faceId, FACE_KINDS } from '../faces/face-table.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { boreEnds, boreReach, type BoreReach } from '../faces/bore-ends.ts';
import { roundWall, type RoundWall } from '../faces/round-wall.ts';
import { isSlit } from './slit-bore.ts';

/** A whole bore or a whole round boss of the part. */
export interface RoundFeature {
  /** Faces it is made of: one, or the halves a CAD file cuts it into. */
  readonly faceIds: readonly string[];
  readonly shape: 'hole' | 'stud';
  readonly diameterM: number;
  readonly lengthM: number;
  /** How far a hole goes; past a counterbore's shoulder it goes on. null for a stud. */
  readonly reach: BoreReach | null;
  /** Cut open from end to end, such as the bore of a clamp ring: no plug keeps acid out of it. */
  readonly slit: boolean;
}

/** Mean normal of a full turn is 0, of three quarters 0.30, of half a turn 0.64: below this it is all round. */
const ALL_ROUND = 0.15;
const SAME_RADIUS = 1e-3;
const CYLINDER = FACE_KINDS.indexOf('cylinder');

/** Bores and round bosses among the faces, largest first; fillets and other partial rounds are left out. */
export function roundFeatures(
  part: Pick<PartGeometry, 'positions' | 'faces' | 'graph' | 'triangleAreas' | 'closed'>,
  metresPerUnit: number,
): RoundFeature[] {
  if (!(metresPerUnit > 0)) throw new RangeError(`roundFeatures: metresPerUnit is ${metresPerUnit}`);
  const { faces, graph, triangleAreas } = part;
  const group = joinedCylinders(part);
  const pull = new Float64Array(3 * faces.count);
  const triangles = new Map<number, number[]>();
  for (let t = 0; t < faces.faceOfTriangle.length; t++) {
    const root = group[faces.faceOfTriangle[t]!]!;
    if (faces.kind[root] !== CYLINDER) continue;
    for (let axis = 0; axis < 3; axis++)
      pull[3 * root + axis]! += graph.normals[3 * t + axis]! * triangleAreas[t]!;
    const own = triangles.get(root);
    if (own) own.push(t);
    else triangles.set(root, [t]);
  }
  const features: Omit<RoundFeature, 'reach'>[] = [];
  const walls: RoundWall[] = [];
  for (let root = 0; root < faces.count; root++) {
    if (faces.kind[root] !== CYLINDER || group[root] !== root) continue;
    const rows: number[] = [];
    let area = 0;
    for (let row = root; row < faces.count; row++) {
      if (group[row] !== root) continue;
      rows.push(row);
      area += faces.area[row]!;
    }
    const unbalanced = Math.hypot(pull[3 * root]!, pull[3 * root + 1]!, pull[3 * root + 2]!);
    if (unbalanced > ALL_ROUND * area) continue;
    const radius = faces.size[root]!;
    const isHole = faces.inward[root] === 1;
    const own = triangles.get(root)!;
    const wall = isHole ? roundWall(part, root, own) : null;
    if (wall) walls.push(wall);
    features.push({
      faceIds: rows.map(faceId),
      shape: isHole ? 'hole' : 'stud',
      diameterM: 2 * radius * metresPerUnit,
      lengthM: (area / (2 * Math.PI * radius)) * metresPerUnit,
      slit: wall !== null && isSlit(part, wall, own),
    });
  }
  const ends = boreEnds(part, walls);
  let bore = 0;
  const whole = features.map((feature): RoundFeature => ({
    ...feature,
    reach: feature.shape === 'hole' ? boreReach(ends[bore++]!) : null,
  }));
  return whole.sort((x, y) => y.diameterM - x.diameterM);
}

/** Per face its group’s lowest row: cylinders that border each other, of one radius and facing the same way. */
function joinedCylinders({ faces }: Pick<PartGeometry, 'faces'>): Uint32Array {
  const group = Uint32Array.from({ length: faces.count }, (_, row) => row);
  const { a, b } = faces.borders;
  for (let changed = true; changed;) {
    changed = false;
    for (let i = 0; i < a.length; i++) {
      const [p, q] = [a[i]!, b[i]!];
      const alike =
        faces.kind[p] === CYLINDER &&
        faces.kind[q] === CYLINDER &&
        faces.inward[p] === faces.inward[q] &&
        Math.abs(faces.size[p]! / faces.size[q]! - 1) < SAME_RADIUS;
      if (!alike || group[p] === group[q]) continue;
      const lowest = Math.min(group[p]!, group[q]!);
      group[p] = lowest;
      group[q] = lowest;
      changed = true;
    }
  }
  return group;
}
