import { roundFeatures } from '../../core/finish/round-features.ts';
import { closedOffBy, closedOffMessages } from '../../core/job/closed-off.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import { plugsOf } from '../../core/job/part-plugs.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { plugMesh } from '../../core/racking/plug-mesh.ts';
import type { GatheredPart } from './gather-parts.ts';

/** What counts as coated although the plugs of masked bores keep the bath from it. Of an open surface nothing is known of that. */
export function plugWarnings({ part, geometry, measure }: GatheredPart): JobMessage[] {
  // Without a mask there is no plug, and the bores need not be looked for.
  if (!geometry.closed || measure.maskedM2 === 0) return [];
  const scale = metresPerUnit(part.unit);
  const plugs = plugsOf(geometry, roundFeatures(geometry, scale), measure.flags);
  if (!plugs) return [];
  const { closedOff } = plugMesh(geometry.graph.indexed, plugs);
  const behind = closedOffBy(geometry, closedOff, measure.flags, scale);
  const share = behind && measure.coatedM2 > 0 ? behind.areaM2 / measure.coatedM2 : 0;
  return closedOffMessages(part, behind, share, 'metric');
}
