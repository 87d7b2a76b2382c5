import type { Part } from '../../core/job/job.ts';
import { plugsOf } from '../../core/job/part-plugs.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import type { Plugs } from '../../core/racking/plugs.ts';
import type { Derived } from './derived.ts';

/** The plugs the part's masks ask for, as far as its bores are known. */
export function plugsOfPart(
  { measures, wet }: Pick<Derived, 'measures' | 'wet'>,
  part: Part,
  geometry: PartGeometry,
): Plugs | null {
  const measure = measures[part.id];
  const rounds = wet.fits[part.id]?.rounds;
  return measure && rounds && measure.flags.length === geometry.triangleCount
    ? plugsOf(geometry, rounds, measure.flags)
    : null;
}
