import { adviceRequest, pinsToJudge } from '../../core/job/advice-request.ts';
import { levelOnPart } from '../../core/job/hung-depth.ts';
import { sizeAsHung } from '../../core/job/hung-wires.ts';
import type { JobMessage } from '../../core/job/job-messages.ts';
import type { Job } from '../../core/job/job.ts';
import { pinMessages } from '../../core/job/pin-messages.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import { prepareHanging } from '../../core/racking/hang-part.ts';
import { judgePins } from '../../core/racking/judge-pins.ts';
import type { GatheredPart } from './gather-parts.ts';

/** What is to be said of the pins that a saved job sets on a part. */
export function pinWarnings(job: Job, { part, geometry, measure }: GatheredPart): JobMessage[] {
  if (part.contacts.length === 0) return [];
  const level = levelOnPart(sizeAsHung(part, geometry), part);
  const { flags, options } = adviceRequest(job, part, geometry, 'metric', measure.coatedM2, level);
  const hanging = prepareHanging(geometry, metresPerUnit(part.unit));
  const size = Math.hypot(...geometry.max.map((high, axis) => high - geometry.min[axis]!));
  const place = { centre: hanging.centre, up: options.up, size };
  const { critique } = judgePins(hanging.adviser(flags, options), pinsToJudge(part, geometry), place);
  const onPart = new Set(measure.contacts.map(({ contactId }) => contactId));
  return pinMessages(part, { critique, failure: null, onPart }, 'metric');
}
