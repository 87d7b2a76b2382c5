import type { PartFitPlan } from '../../core/job/fit-plan.ts';
import type { Part } from '../../core/job/job.ts';
import type { PartMeasure } from '../../core/job/measure-part.ts';
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
  return measure ? knownPlugs(geometry, measure, wet.fits[part.id]) : null;
}

export function knownPlugs(
  geometry: PartGeometry,
  { flags }: Pick<PartMeasure, 'flags'>,
  fits: Pick<PartFitPlan, 'rounds'> | undefined,
): Plugs | null {
  return fits && flags.length === geometry.triangleCount ? plugsOf(geometry, fits.rounds, flags) : null;
}
