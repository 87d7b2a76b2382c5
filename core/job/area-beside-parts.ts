import type { RunPlan } from '../electrical/plan-run.ts';
import type { Part } from './job.ts';
import type { PartMeasure } from './measure-part.ts';

/** Of the area that takes current: what is coated on the parts, and what hangs in the bath beside them, m². */
export interface AreaTakingCurrent {
  readonly coatedM2: number;
  /** Aluminium wire and bus ends below the level, of all loads. */
  readonly besideM2: number;
}

/** Splits the plan's area, so that it can be told from the parts' own. Parts without a measure are a caller's bug. */
export function splitAreaTakingCurrent(
  parts: readonly Pick<Part, 'id' | 'quantity'>[],
  measures: Readonly<Record<string, Pick<PartMeasure, 'coatedM2'>>>,
  { areaM2 }: Pick<RunPlan, 'areaM2'>,
): AreaTakingCurrent {
  const coatedM2 = parts.reduce((sum, { id, quantity }) => {
    const measure = measures[id];
    if (!measure) throw new RangeError(`measures: none of part ${id}`);
    return sum + measure.coatedM2 * quantity;
  }, 0);
  const besideM2 = areaM2.valueSi - coatedM2;
  // Rounding of the sums is no wire.
  return { coatedM2, besideM2: besideM2 > 1e-9 * areaM2.valueSi ? besideM2 : 0 };
}
