import type { UnitSystem } from '../units/unit-table.ts';
import { FIT_CLASS, SIZE_WITH_CLASS } from './parse-fit.ts';
import { splitThread } from './split-thread.ts';
import { inchesByLook, readWrittenSize, sizeNumber } from './written-size.ts';

/** A tenth of a micrometre: the finest class held, grade 5 below 3 mm, spans 4 µm. */
const NAME_STEP_M = 0.1e-6;
/** The model's size and one typed for it, alike. */
const SAME_SHARE = 0.02;

/**
 * A fit as it is kept: with its size and its unit, so that it means the same in either system of units. "H7" takes the size of
 * the face; limits and sizes without a unit are in the system's. Any other text stays as it is.
 * @param diameterM of the bore or boss it is typed for; null where it lies on none
 */
export function completeFit(text: string, diameterM: number | null, system: UnitSystem): string {
  const typed = text.trim();
  if (FIT_CLASS.test(typed) && diameterM !== null) return `${sizeName(diameterM, system)}${typed}`;
  const classed = SIZE_WITH_CLASS.exec(typed);
  if (classed && classed[2] === undefined) {
    const [, size, , letters, grade] = classed;
    const inches = inchesByLook(size!) || (system === 'us' && reads(sizeNumber(size!) * 25.4e-3, diameterM));
    return inches ? `${size} in ${letters}${grade}` : typed;
  }
  if (splitThread(typed)) return typed;
  const written = readWrittenSize(typed, system === 'us' ? 'in' : 'mm');
  return written?.ok && !written.value.unitSaid ? `${typed} ${system === 'us' ? 'in' : 'mm'}` : typed;
}

const reads = (sizeM: number, diameterM: number | null): boolean =>
  diameterM !== null && Math.abs(sizeM - diameterM) <= SAME_SHARE * diameterM;

/** The model's size to a tenth of a micrometre: "25", "6.5278", "0.2570 in ". */
function sizeName(diameterM: number, system: UnitSystem): string {
  if (system === 'metric') return `${shortest(diameterM * 1e3, 2, NAME_STEP_M * 1e3)}`;
  const inches = shortest(diameterM / 25.4e-3, 3, NAME_STEP_M / 25.4e-3);
  const decimals = inches.toString().split('.')[1]?.length ?? 0;
  return `${decimals < 4 ? inches.toFixed(4) : inches} in `;
}

/** The value with as few decimals as come within `step` of it. */
function shortest(value: number, from: number, step: number): number {
  for (let decimals = from; decimals < 12; decimals++) {
    const rounded = Number(value.toFixed(decimals));
    if (Math.abs(rounded - value) <= step) return rounded;
  }
  return value;
}
