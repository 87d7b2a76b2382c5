import type { Dip } from './colour-book.ts';
import { predictColour, type UptakeFit } from './fit-uptake.ts';

/** A dye is called ageing when its dips get lighter by more than anybody overlooks, and by twice what chance does. */
const LEAST_CHANGE_L = 2;
const SURE = 2;
const LEAST_DIPS = 6;
const DAY_MS = 86_400_000;
/** A dye loses strength over weeks of use; dips of a day tell nothing of it. */
const LEAST_DAYS = 3;

export interface DyeAgeing {
  readonly days: number;
  /** By how much the last dips come out lighter than the first at the same time, L*. */
  readonly lighterBy: number;
  readonly message: string;
  readonly remedy: string;
}

/**
 * Whether a dye weakens: what its dips are off the common curve in lightness, as a straight line over the days they were
 * dipped. null where it does not, or where too few dips or days can tell.
 */
export function dyeAgeing(
  dips: readonly Pick<Dip, 'at' | 'timeS' | 'temperatureK' | 'thicknessM' | 'colour'>[],
  fit: UptakeFit,
): DyeAgeing | null {
  const dyed = dips.filter(({ timeS }) => timeS > 0);
  if (dyed.length < LEAST_DIPS) return null;
  const day = dyed.map(({ at }) => Date.parse(at) / DAY_MS);
  const off = dyed.map((dip) => dip.colour.l - predictColour(fit, fit.best, dip, dip.timeS).l);
  const days = Math.max(...day) - Math.min(...day);
  if (!(days >= LEAST_DAYS)) return null;
  const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
  const [middle, meanOff] = [mean(day), mean(off)];
  const spread = day.reduce((sum, d) => sum + (d - middle) ** 2, 0);
  const slope = day.reduce((sum, d, i) => sum + (d - middle) * (off[i]! - meanOff), 0) / spread;
  const left = off.reduce((sum, value, i) => sum + (value - meanOff - slope * (day[i]! - middle)) ** 2, 0);
  const slopeSd = Math.sqrt(left / (dyed.length - 2) / spread);
  const lighterBy = slope * days;
  if (lighterBy < LEAST_CHANGE_L || slope < SURE * slopeSd) return null;
  return {
    days,
    lighterBy,
    message: `This dye is getting weaker: over ${Math.round(days)} days the same dip comes out ${lighterBy.toFixed(1)} lighter in L*.`,
    remedy:
      'Check its pH and filter it, add dye or make it fresh; then start a new entry for it, or dip test pieces again.',
  };
}
