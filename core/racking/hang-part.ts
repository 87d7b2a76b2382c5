import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { Result } from '../result.ts';
import { createAdviser, type Adviser, type AdviserOptions } from './advise-contacts.ts';
import { contactGround, type ContactGround } from './contact-ground.ts';
import { solidMoments, type SolidMoments } from './balance.ts';
import { prepareTrapMesh, type TrapMesh } from './trap-mesh.ts';
import type { Vec3 } from './vec3.ts';

/** A part made ready for hanging: what stays the same while it is turned and its pins are moved. Model units. */
export interface HangingPart {
  /** For traps and the search; a failure for an open or inside-out mesh. */
  readonly trapMesh: Result<TrapMesh>;
  /** Volume and centre of gravity; a failure where `trapMesh` is one. */
  readonly moments: Result<SolidMoments>;
  /** Centre of gravity, or the middle of the box around an open mesh. */
  readonly centre: Vec3;
  /** The first call takes the longest: it makes ready what all share. */
  adviser(flags: Uint8Array, options: Omit<AdviserOptions, 'centre' | 'metresPerUnit'>): Adviser;
}

export function prepareHanging(geometry: PartGeometry, metresPerUnit: number): HangingPart {
  const trapMesh = prepareTrapMesh(geometry.graph.indexed);
  const moments = trapMesh.ok ? solidMoments(geometry.graph.indexed) : trapMesh;
  const [low, high] = [geometry.min, geometry.max];
  const centre: Vec3 = moments.ok
    ? moments.value.centre
    : [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2];
  let ground: ContactGround | undefined;
  return {
    trapMesh,
    moments,
    centre,
    adviser: (flags, options) =>
      createAdviser((ground ??= contactGround(geometry)), flags, { ...options, centre, metresPerUnit }),
  };
}

/** Directions worth a look beside the spread ones: the six along the part's own axes. */
export const PART_AXES: readonly Vec3[] = [
  [0, 0, 1],
  [0, 0, -1],
  [0, 1, 0],
  [0, -1, 0],
  [1, 0, 0],
  [-1, 0, 0],
];
