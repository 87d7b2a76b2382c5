import { roundFeatures } from '../../core/finish/round-features.ts';
import { plugsOf } from '../../core/job/part-plugs.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { Plugs } from '../../core/racking/plugs.ts';
import type { GatheredPart } from './gather-parts.ts';

/** What stands in the masked bores of a part; null where nothing does. */
export function gatheredPlugs({ part, geometry, measure }: GatheredPart): Plugs | null {
  return plugsOf(geometry, roundFeatures(geometry, metresPerUnit(part.unit)), measure.flags);
}
