import { closedOffBy, closedOffMessages, closedOffShare } from '../../core/job/closed-off.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { plugMesh } from '../../core/racking/plug-mesh.ts';
import type { GatheredPart } from './gather-parts.ts';
import { gatheredPlugs } from './gathered-plugs.ts';

/** What counts as coated although the plugs of masked bores keep the bath from it. Of an open surface nothing is known of that. */
export function plugWarnings(gathered: GatheredPart): JobMessage[] {
  const { part, geometry, measure } = gathered;
  // Without a mask there is no plug, and the bores need not be looked for.
  if (!geometry.closed || measure.maskedM2 === 0) return [];
  const plugs = gatheredPlugs(gathered);
  if (!plugs) return [];
  const { closedOff } = plugMesh(geometry.graph.indexed, plugs);
  const behind = closedOffBy(geometry, closedOff, measure.flags, metresPerUnit(part.unit));
  return closedOffMessages(part, behind, closedOffShare(behind, measure.coatedM2), 'metric');
}
