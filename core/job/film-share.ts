import { chargeConstantSource } from '../electrical/charge-source.ts';
import type { Source } from '../figure/figure.ts';
import { alloyByName } from '../reference/alloys.ts';
import type { Job, Part } from './job.ts';

/** Film that a part gets over the film planned. */
export interface FilmShare {
  readonly usual: number;
  readonly low: number;
  readonly high: number;
  readonly source: Source;
}

/**
 * How much of the planned film a part's alloy makes; null where it makes all of it, or nobody has said what it is.
 * A charge constant of the shop's own in a job of this alloy alone is taken as measured on it, and holds the share already.
 */
export function filmShare(job: Job, part: Part): FilmShare | null {
  const alloy = part.alloy === null ? undefined : alloyByName(part.alloy);
  if (!alloy || alloy.yieldFactor.low >= 1) return null;
  const alone = job.parts.every((other) => other.alloy === part.alloy);
  if (alone && isOwn(chargeConstantSource(job.process))) return null;
  const { low, high } = alloy.yieldFactor;
  const percent = (share: number): number => Math.round(100 * share);
  return {
    usual: (low + high) / 2,
    low,
    high,
    source: {
      standing: 'from memory',
      text: `${alloy.name} makes ${percent(low)}-${percent(high)} % of the film for the charge`,
    },
  };
}

function isOwn({ standing }: Source): boolean {
  return standing === 'your entry' || standing === 'your own runs';
}
