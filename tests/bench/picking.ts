import { BufferAttribute, BufferGeometry, Ray, Vector3 } from 'three';
import { CENTER, MeshBVH } from 'three-mesh-bvh';
import { medianOf, printTimings, timeCases, type BenchSubject } from './harness.ts';
import { wavyTorus } from './meshes.ts';

/** A click at 1 M triangles: the tree is built once in the worker, a ray through it must answer within a frame. */
export const picking: BenchSubject = {
  name: 'geometry/picking',
  run: () => {
    const positions = wavyTorus(1_000_000);
    const build = (): MeshBVH =>
      new MeshBVH(new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3)), {
        strategy: CENTER,
        targetLeafSize: 10,
      });
    const tree = build();
    const rays = Array.from({ length: 100 }, (_, i) => {
      const angle = i * 2.399963;
      const from = new Vector3(200 * Math.cos(angle), 200 * Math.sin(angle), 3 * (i % 31) - 45);
      const to = new Vector3(30 * Math.cos(angle + 0.3), 30 * Math.sin(angle + 0.3), 0);
      return new Ray(from, to.sub(from).normalize());
    });
    const hits = rays.filter((ray) => tree.raycastFirst(ray)).length;
    const timings = timeCases([
      { name: 'build', run: build },
      { name: 'one ray', run: () => tree.raycastFirst(rays[0]) },
      { name: '100 rays', run: () => rays.map((ray) => tree.raycastFirst(ray)) },
    ]);
    printTimings(`picking in 1 M triangles, ${hits} of 100 rays hit`, timings, 'build');
    return [{ what: 'one ray', value: medianOf(timings, 'one ray'), limit: 16, unit: ' ms' }];
  },
};
