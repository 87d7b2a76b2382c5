import { positionGap } from '../reference/iso-965.ts';
import type { ThreadLimits } from '../reference/thread-limits.ts';
import type { BuildUp } from './build-up.ts';
import { coatedEnds, flankFactor, liesWithin, type CoatedWindow, type Window } from './coated-window.ts';
import { sayWindow } from './say-window.ts';
import type { UnitSystem } from '../units/unit-table.ts';

/**
 * What to say of the tolerance class to cut a metric thread to before coating; null where no class is held for it. ISO 965-1 means
 * position G for nuts that are coated: the limit with the most metal, basic H, is what the coated thread may not pass, so 6G will do
 * for a 6H thread as long as the film closes it by no more than G lies above H. 6g is the bolts' own class for a film, and nothing
 * wider is held for it.
 */
export function classForCoating(
  limits: ThreadLimits,
  growth: BuildUp,
  { before }: Pick<CoatedWindow, 'before'>,
  system: UnitSystem,
): string | null {
  if (!/^M.*-6H$/.test(limits.designation)) return null;
  const gap = positionGap(limits.pitchM);
  if (!gap.ok || growth.usualM <= 0) return null;
  const factor = -flankFactor(limits.flankAngleRad);
  const tapped: Window = { lowM: before.lowM + gap.value, highM: before.highM + gap.value };
  const ends = coatedEnds(tapped, factor, growth);
  const is = `6G (pitch diameter ${sayWindow(tapped, system)})`;
  const um = (metres: number): string => `${Math.ceil(metres * 1e6 - 0.05)} µm`;
  const most = Math.max(0, -factor * growth.highM);
  if (!liesWithin({ lowM: ends.lowM, highM: before.highM }, before)) {
    return `A tap for ${is} is not enough: it is ${um(gap.value)} over 6H, and the film takes up to ${um(most)}. A tap that much oversize, or a thinner film, is needed.`;
  }
  const loose = ends.highM - before.highM;
  const over = loose > 0.05e-6 ? `, the loosest up to ${um(loose)} over the high limit` : '';
  return `A tap for ${is} will do: after coating no thread is tighter than 6H${over}.`;
}
