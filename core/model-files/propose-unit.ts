import { MODEL_UNITS, type ModelUnit } from '../job/job.ts';
import { formatIn } from '../units/format-quantity.ts';
import { fromUnit, unitBySymbol } from '../units/find-unit.ts';

/** What the part would measure if the file were in this unit; three sides each, model axes. */
export interface UnitSize {
  readonly unit: ModelUnit;
  readonly mm: readonly [number, number, number];
  readonly inches: readonly [number, number, number];
}

export interface UnitProposal {
  readonly unit: ModelUnit;
  /** One sentence: why this one. */
  readonly reason: string;
  /** False where another unit fits as well or none fits. */
  readonly likely: boolean;
  /** Every unit that can be chosen. */
  readonly sizes: readonly UnitSize[];
}

/** Longest side of a part for a small tank, m. Common practice: a bucket to a trough. */
const SHORTEST_USUAL_M = 0.01;
const LONGEST_USUAL_M = 1.2;
/** Files in these units are met, most often first; the others are only offered. */
const MET_FIRST: readonly ModelUnit[] = ['mm', 'in', 'm'];

/** As said in a sentence: “in inches” and not “in in”. */
const SPOKEN: Readonly<Record<ModelUnit, string>> = {
  mm: 'mm',
  cm: 'cm',
  m: 'metres',
  in: 'inches',
  ft: 'feet',
};

const metres = (value: number, unit: ModelUnit): number => fromUnit(value, unitBySymbol('length', unit));

function isUsual(longest: number, unit: ModelUnit): boolean {
  const lengthM = metres(longest, unit);
  return lengthM >= SHORTEST_USUAL_M && lengthM <= LONGEST_USUAL_M;
}

function stepsOf(value: number, step: number): boolean {
  const steps = value / step;
  return Math.abs(steps - Math.round(steps)) < 1e-3;
}

/**
 * Proposes the unit of a file that carries none, from its extents (model units, all finite, the longest above zero).
 * A proposal is only ever shown for the user to confirm. Throws RangeError for extents that are not a part's.
 */
export function proposeUnit(extents: readonly [number, number, number], declared?: ModelUnit): UnitProposal {
  const longest = Math.max(...extents);
  if (!extents.every((side) => Number.isFinite(side) && side >= 0) || !(longest > 0)) {
    throw new RangeError(`proposeUnit: extents are ${extents.join(', ')}`);
  }
  const sizes = MODEL_UNITS.map((unit): UnitSize => {
    const inUnit = (target: 'mm' | 'in'): [number, number, number] => {
      const perUnit = metres(1, unit) / metres(1, target);
      return [extents[0] * perUnit, extents[1] * perUnit, extents[2] * perUnit];
    };
    return { unit, mm: inUnit('mm'), inches: inUnit('in') };
  });
  const sideText = (unit: ModelUnit): string => {
    const lengthM = metres(longest, unit);
    return `${formatIn('length', lengthM, 'mm').text} (${formatIn('length', lengthM, 'in').text})`;
  };
  const proposal = (unit: ModelUnit, reason: string, likely: boolean): UnitProposal => ({
    unit,
    reason,
    likely,
    sizes,
  });

  if (declared) {
    return proposal(
      declared,
      `A comment in the file says ${SPOKEN[declared]}, which makes the longest side ${sideText(declared)}.`,
      isUsual(longest, declared),
    );
  }
  const usual = MET_FIRST.filter((unit) => isUsual(longest, unit));
  const sides = extents.filter((side) => side > longest * 1e-6);
  // A few units long and whole in millimetres but not in sixteenths of an inch: centimetres after all.
  const wholeMm = sides.every((side) => stepsOf(side, 0.1));
  const sixteenths = sides.every((side) => stepsOf(side, 1 / 16));
  if (usual[0] !== 'mm' && isUsual(longest, 'cm') && wholeMm && !sixteenths) {
    return proposal(
      'cm',
      `In cm every side is a whole number of millimetres and the longest is ${sideText('cm')}; in inches it would be ${sideText('in')}.`,
      false,
    );
  }
  const best = usual[0];
  if (best === undefined) {
    const nearest = metres(longest, 'mm') > LONGEST_USUAL_M ? 'mm' : 'm';
    return proposal(
      nearest,
      `No unit gives a usual size; ${SPOKEN[nearest]} come nearest with a longest side of ${sideText(nearest)}.`,
      false,
    );
  }
  const rivals = usual.slice(1);
  const reason = rivals.length
    ? `In ${SPOKEN[best]} the longest side is ${sideText(best)}, in ${SPOKEN[rivals[0]!]} it would be ${sideText(rivals[0]!)}; ${SPOKEN[best]} are met more often.`
    : `In ${SPOKEN[best]} the longest side is ${sideText(best)}, a usual size for a small tank; in no other common unit is it.`;
  return proposal(best, reason, rivals.length === 0);
}
