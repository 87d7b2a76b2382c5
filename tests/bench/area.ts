import { BufferAttribute, BufferGeometry, Vector3 } from 'three';
import { surfaceArea } from '../../core/mesh/surface-area.ts';
import { medianOf, printTimings, timeCases, type BenchSubject, type Target } from './harness.ts';
import { wavyTorus } from './meshes.ts';

/** Area of 1 M and 5 M triangles: against a copy of the same bytes, and against three vectors made for each triangle. */
export const area: BenchSubject = {
  name: 'geometry/area',
  run: () => [1_000_000, 5_000_000].flatMap(measure),
};

function measure(triangleCount: number): Target[] {
  const positions = wavyTorus(triangleCount);
  const copy = new Float32Array(positions.length);
  const geometry = new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3));
  const difference = Math.abs(surfaceArea(positions) / freshVectorArea(geometry) - 1);
  if (!(difference < 1e-9)) throw new Error(`the two areas differ by ${difference}`);
  const timings = timeCases(
    [
      { name: 'copy', run: () => copy.set(positions) },
      { name: 'copy to new memory', run: () => positions.slice() },
      { name: 'area', run: () => surfaceArea(positions) },
      { name: 'fresh vectors', run: () => freshVectorArea(geometry) },
    ],
    15,
  );
  printTimings(`area of ${triangleCount / 1e6} M triangles, wavy torus in grid order`, timings);
  const own = medianOf(timings, 'area');
  const million = `${triangleCount / 1e6} M: `;
  return [
    { what: `${million}area against a copy`, value: own / medianOf(timings, 'copy'), limit: 1.5, unit: ' ×' },
    {
      what: `${million}area against a copy to new memory`,
      value: own / medianOf(timings, 'copy to new memory'),
      limit: 1.5,
      unit: ' ×',
    },
    {
      what: `${million}fresh vectors against area`,
      value: medianOf(timings, 'fresh vectors') / own,
      limit: 8,
      unit: ' ×',
      atLeast: true,
    },
  ];
}

/** The usual way over a loader's geometry. */
function freshVectorArea(geometry: BufferGeometry): number {
  const position = geometry.getAttribute('position');
  let total = 0;
  for (let i = 0; i < position.count; i += 3) {
    const a = new Vector3().fromBufferAttribute(position, i);
    const b = new Vector3().fromBufferAttribute(position, i + 1);
    const c = new Vector3().fromBufferAttribute(position, i + 2);
    total += new Vector3().crossVectors(b.clone().sub(a), c.clone().sub(a)).length() / 2;
  }
  return total;
}
