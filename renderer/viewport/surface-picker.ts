import type { Vector3 } from 'three';
import { BufferAttribute, BufferGeometry, DoubleSide, Ray } from 'three';
import { MeshBVH } from 'three-mesh-bvh';
import type { SerializedPickIndex } from '../worker/jobs.ts';
import { triangleNormal } from './triangle-normal.ts';
import type { SurfaceHit } from './viewport-props.ts';

/** Answers rays against a part, in model units, through the tree made in the worker. Never walks all triangles. */
export class SurfacePicker {
  readonly #positions: Float32Array;
  readonly #tree: MeshBVH;
  readonly #ray = new Ray();

  constructor(positions: Float32Array, index: SerializedPickIndex) {
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new BufferAttribute(positions, 3));
    this.#positions = positions;
    this.#tree = MeshBVH.deserialize(index, geometry, { setIndex: false });
  }

  /** First triangle along the ray, either side of it, or null. `direction` must have length 1. */
  hit(origin: Vector3, direction: Vector3): SurfaceHit | null {
    this.#ray.origin.copy(origin);
    this.#ray.direction.copy(direction);
    const first = this.#tree.raycastFirst(this.#ray, DoubleSide);
    if (!first || first.faceIndex == null) return null;
    return {
      triangle: first.faceIndex,
      point: [first.point.x, first.point.y, first.point.z],
      normal: triangleNormal(this.#positions, first.faceIndex),
    };
  }

  /** True when something lies between `point` and far away along `direction`, farther than `from` model units. */
  isCovered(point: Vector3, direction: Vector3, from: number): boolean {
    this.#ray.origin.copy(direction).multiplyScalar(from).add(point);
    this.#ray.direction.copy(direction);
    return this.#tree.raycastFirst(this.#ray, DoubleSide) !== null;
  }
}
