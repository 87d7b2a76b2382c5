import type { PlanItem } from '../electrical/plan-items.ts';
import { wettedHangers } from '../racking/wetted-hangers.ts';
import type { Job, Part } from './job.ts';
import type { PartMeasure } from './measure-part.ts';

/**
 * What takes current, one item a part: its coated area and the aluminium wires it hangs from, as far as they are below
 * the level. Every part has to have its measure.
 */
export function loadItems(
  parts: readonly Part[],
  measures: Readonly<Record<string, PartMeasure>>,
): PlanItem[] {
  return parts.map((part): PlanItem => {
    const measure = measures[part.id];
    if (!measure) throw new RangeError(`measures: none for part "${part.id}"`);
    const hangersM2 = hangerAreaM2(part);
    const { coatedM2, coatedLowM2, coatedHighM2, unconfirmed } = measure;
    const isRanged = coatedHighM2 - coatedLowM2 > 1e-9 * coatedM2;
    return {
      name: part.name,
      areaM2: coatedM2 + hangersM2,
      ...(isRanged ? { areaLowM2: coatedLowM2 + hangersM2, areaHighM2: coatedHighM2 + hangersM2 } : {}),
      ...(hangersM2 > 0 ? { hangersM2 } : {}),
      quantity: part.quantity,
      ...(unconfirmed === undefined ? {} : { unconfirmed }),
    };
  });
}

/** Aluminium wire below the level that holds one piece, m². Titanium takes no current. */
export function hangerAreaM2(part: Pick<Part, 'contacts'>): number {
  return wettedHangers(
    part.contacts.map(({ hanger }, index) => ({
      name: `wire at pin ${index + 1}`,
      material: hanger.material,
      diameterM: hanger.diameterM,
      lengthBelowM: hanger.wetLengthM + hanger.hookLengthM,
      endsBelow: 1,
      count: hanger.count,
    })),
  ).areaM2.valueSi;
}

/** Whether every part of a job has its measure, so that the load can be planned. */
export function allMeasured(job: Job, measures: Readonly<Record<string, PartMeasure>>): boolean {
  return job.parts.length > 0 && job.parts.every((part) => measures[part.id] !== undefined);
}
