import type { Figure, Source } from '../figure/figure.ts';
import type { HangerMaterial } from '../job/job-hanging.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import {
  GUIDE_SOURCE,
  HANGER_METALS,
  resistivityAt,
  WIRE_DIAMETERS_M,
  type HangerMetal,
} from './hanger-materials.ts';
import { hangerFindings, SAG_SHARE, STRENGTH_MARGIN, type HangerFinding } from './hanger-findings.ts';
import { currentForRiseA, riseForCurrentK, type Surroundings } from './wire-heat.ts';

/** The hangers of one part: so many equal round wires side by side. */
export interface HangerSet {
  readonly material: HangerMaterial;
  readonly diameterM: number;
  readonly count: number;
  /** From the bar down to the liquid. */
  readonly dryLengthM: number;
  /** From the liquid down to the contact. */
  readonly wetLengthM: number;
  /** Bent past the upright, below the liquid, straightened out. */
  readonly hookLengthM: number;
  /** How far the part's weight hangs beside the wire: the reach of the hook or of a side arm. */
  readonly armM: number;
}

export interface HangerDuty {
  /** Through all hangers of the part together. */
  readonly currentA: number;
  /** null where it is not known: then bending is not judged. */
  readonly weightN: number | null;
  readonly airK: number;
  readonly bathK: number;
  /** Largest rise of the dry wire; the immersed one may rise a quarter of it, so as not to warm the part. */
  readonly allowedRiseK: number;
  readonly allowedDropV: number;
}

/** Common practice: a wire 40 K above the room is hot to the touch, and 0.5 V is a twentieth of the cell's voltage. */
export const USUAL_DUTY = { allowedRiseK: 40, allowedDropV: 0.5 } as const;

/** A set that would do, nearest to the one asked for. */
export interface HangerFix {
  readonly material: HangerMaterial;
  readonly diameterM: number;
  readonly count: number;
  readonly text: string;
}

/** What the weight does to the hook. */
export interface Bending {
  readonly stressPa: number;
  readonly sagM: Figure;
}

/** What is measured, without the verdict. */
export interface HangerMeasures {
  /** All hangers together, at the allowed rise. */
  readonly capacityDryA: Figure;
  readonly capacityWetA: Figure;
  /** By the finishing guidebook's current per cross-section: a second opinion. */
  readonly guideA: Figure;
  /** Absent when the wire would go beyond 300 °C, or boil the bath. */
  readonly riseDryK?: Figure;
  readonly riseWetK?: Figure;
  readonly dropV: Figure;
  /** null where the weight is not known. */
  readonly bending: Bending | null;
  readonly yieldPa: number;
  /** Bare wire under the surface; aluminium takes current there and has to be counted with the part. */
  readonly wetAreaM2: Figure;
  readonly reuse: 'once' | 'many';
}

export interface HangerCheck extends HangerMeasures {
  readonly findings: readonly HangerFinding[];
  /** Empty when the set does. */
  readonly fixes: readonly HangerFix[];
}

const HEAT_SOURCE: Source = {
  standing: 'published',
  text: 'Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049, horizontal cylinder; radiation in air; ±20 %',
};
const BEAM_SOURCE: Source = {
  standing: 'published',
  text: 'beam bending, cantilever of round section loaded at its end (Roark’s Formulas for Stress and Strain)',
};
const OHM: Source = { standing: 'definition', text: 'Ohm’s law with the resistivity of the metal' };
const WET_SHARE = 0.25;
const MOST_COUNT = 12;

const areaOf = (diameterM: number): number => (Math.PI * diameterM ** 2) / 4;

/** What the set can do, and what is wrong with it. Throws RangeError for sizes that no hanger has. */
export function checkHanger(set: HangerSet, duty: HangerDuty, system: UnitSystem = 'metric'): HangerCheck {
  requirePositive({ ...set }, ['diameterM', 'count']);
  requirePositive({ ...duty }, ['airK', 'bathK', 'allowedRiseK', 'allowedDropV']);
  for (const [name, value] of Object.entries({
    dryLengthM: set.dryLengthM,
    wetLengthM: set.wetLengthM,
    hookLengthM: set.hookLengthM,
    armM: set.armM,
    currentA: duty.currentA,
    weightN: duty.weightN ?? 0,
  })) {
    if (!(value >= 0)) throw new RangeError(`checkHanger: ${name} is ${value}`);
  }
  const metal = HANGER_METALS[set.material];
  const each = duty.currentA / set.count;
  const riseDry = riseForCurrentK(metal, set.diameterM, each, duty.airK, 'air');
  const riseWet = riseForCurrentK(metal, set.diameterM, each, duty.bathK, 'bath');
  const dropV = dropFigure(set, metal, duty, riseDry ?? duty.allowedRiseK, riseWet ?? 0);
  const bending = bendingOf(set, metal, duty);
  const check = {
    capacityDryA: capacityFigure(set, metal, duty.allowedRiseK, duty.airK, 'air'),
    capacityWetA: capacityFigure(set, metal, WET_SHARE * duty.allowedRiseK, duty.bathK, 'bath'),
    guideA: guideFigure(set, metal),
    ...(riseDry === undefined ? {} : { riseDryK: riseFigure(set, metal, each, riseDry, duty.airK, 'air') }),
    ...(riseWet === undefined ? {} : { riseWetK: riseFigure(set, metal, each, riseWet, duty.bathK, 'bath') }),
    dropV,
    bending,
    yieldPa: metal.yieldPa,
    wetAreaM2: wetAreaFigure(set),
    reuse: metal.reuse,
  };
  const fixes = suffices(set, duty) ? [] : fixesFor(set, duty, system);
  return { ...check, findings: hangerFindings(set, duty, metal, check, fixes, system), fixes };
}

/** Whether any of it is in the liquid; the contact of a part that stands out of it may be above. */
export const hasWetWire = ({
  wetLengthM,
  hookLengthM,
}: Pick<HangerSet, 'wetLengthM' | 'hookLengthM'>): boolean => wetLengthM + hookLengthM > 0;

/** Heat, drop, strength and sag all within their limits, as far as they are known. */
export function suffices(set: HangerSet, duty: HangerDuty): boolean {
  const metal = HANGER_METALS[set.material];
  const each = duty.currentA / set.count;
  if (currentForRiseA(metal, set.diameterM, duty.allowedRiseK, duty.airK, 'air') < each) return false;
  if (
    hasWetWire(set) &&
    currentForRiseA(metal, set.diameterM, WET_SHARE * duty.allowedRiseK, duty.bathK, 'bath') < each
  ) {
    return false;
  }
  if (dropFigure(set, metal, duty, duty.allowedRiseK, 0).valueSi > duty.allowedDropV) return false;
  const bending = bendingOf(set, metal, duty);
  if (bending === null) return true;
  const { stressPa, sagM } = bending;
  return stressPa * STRENGTH_MARGIN <= metal.yieldPa && sagM.valueSi <= SAG_SHARE * Math.max(set.armM, 1e-9);
}

function capacityFigure(
  set: HangerSet,
  metal: HangerMetal,
  riseK: number,
  aroundK: number,
  surroundings: Surroundings,
): Figure {
  const one = currentForRiseA(metal, set.diameterM, riseK, aroundK, surroundings);
  const current = one * set.count;
  return {
    label: surroundings === 'air' ? 'Current they carry in air' : 'Current they carry in the bath',
    kind: 'current',
    valueSi: current,
    lowSi: 0.8 * current,
    highSi: 1.2 * current,
    formula:
      surroundings === 'air'
        ? 'I = n · √((h·ΔT + ε·σ·(T⁴ − T0⁴)) · π·d · A / ρ)'
        : 'I = n · √(h·ΔT · π·d · A / ρ)',
    inputs: [
      { symbol: 'n', label: 'wires', kind: 'count', valueSi: set.count },
      { symbol: 'd', label: 'diameter', kind: 'length', valueSi: set.diameterM },
      { symbol: 'ΔT', label: 'allowed rise', kind: 'temperatureDifference', valueSi: riseK },
      { symbol: 'T0', label: surroundings === 'air' ? 'air' : 'bath', kind: 'temperature', valueSi: aroundK },
      {
        symbol: 'ρ',
        label: 'resistivity at that heat',
        kind: 'resistivity',
        valueSi: resistivityAt(metal, aroundK + riseK),
      },
    ],
    source: HEAT_SOURCE,
  };
}

function riseFigure(
  set: HangerSet,
  metal: HangerMetal,
  each: number,
  riseK: number,
  aroundK: number,
  surroundings: Surroundings,
): Figure {
  return {
    label: surroundings === 'air' ? 'Wire above the room' : 'Wire above the bath',
    kind: 'temperatureDifference',
    valueSi: riseK,
    formula: surroundings === 'air' ? 'I²·ρ/A = π·d·(h·ΔT + ε·σ·(T⁴ − T0⁴))' : 'I²·ρ/A = π·d·h·ΔT',
    inputs: [
      { symbol: 'I', label: 'current in one wire', kind: 'current', valueSi: each },
      { symbol: 'd', label: 'diameter', kind: 'length', valueSi: set.diameterM },
      {
        symbol: 'ρ',
        label: 'resistivity',
        kind: 'resistivity',
        valueSi: resistivityAt(metal, aroundK + riseK),
      },
    ],
    source: HEAT_SOURCE,
  };
}

function guideFigure(set: HangerSet, metal: HangerMetal): Figure {
  const section = set.count * areaOf(set.diameterM);
  return {
    label: 'Current by the guidebook',
    kind: 'current',
    valueSi: section * metal.guideAPerM2,
    formula: 'I = j · n · π·d²/4',
    inputs: [
      {
        symbol: 'j',
        label: 'guide for this metal',
        kind: 'currentDensity',
        valueSi: metal.guideAPerM2,
        unit: 'A/in²',
      },
      { symbol: 'A', label: 'cross-section of all wires', kind: 'area', valueSi: section, unit: 'mm²' },
    ],
    source: GUIDE_SOURCE,
  };
}

function dropFigure(
  set: HangerSet,
  metal: HangerMetal,
  duty: HangerDuty,
  riseDryK: number,
  riseWetK: number,
): Figure {
  const section = set.count * areaOf(set.diameterM);
  const dry = resistivityAt(metal, duty.airK + riseDryK);
  const wet = resistivityAt(metal, duty.bathK + riseWetK);
  return {
    label: 'Drop along the hangers',
    kind: 'voltage',
    valueSi: (duty.currentA * (dry * set.dryLengthM + wet * (set.wetLengthM + set.hookLengthM))) / section,
    formula: 'V = I · (ρ1·L1 + ρ2·(L2 + L3)) / (n·A), contact taken at the tip of the hook',
    inputs: [
      { symbol: 'I', label: 'current', kind: 'current', valueSi: duty.currentA },
      { symbol: 'ρ1', label: 'resistivity, dry', kind: 'resistivity', valueSi: dry },
      { symbol: 'L1', label: 'dry length', kind: 'length', valueSi: set.dryLengthM },
      { symbol: 'ρ2', label: 'resistivity, in the bath', kind: 'resistivity', valueSi: wet },
      { symbol: 'L2', label: 'length in the bath', kind: 'length', valueSi: set.wetLengthM },
      { symbol: 'L3', label: 'bent end', kind: 'length', valueSi: set.hookLengthM },
      { symbol: 'n·A', label: 'cross-section of all wires', kind: 'area', valueSi: section, unit: 'mm²' },
    ],
    source: OHM,
  };
}

/**
 * Each hanger as an arm that stands out by `armM` from its upright and carries its share of the weight at the end:
 * M = W·a, stress 32 M/(π d³) plus the pull W/A, sag W·a³/(3 E I). The upright itself only pulls. In the bath buoyancy
 * helps; out of it, wet and full of liquid, it does not, so the dry weight is taken.
 */
function bendingOf(set: HangerSet, metal: HangerMetal, duty: HangerDuty): Bending | null {
  if (duty.weightN === null) return null;
  const weight = duty.weightN / set.count;
  const d = set.diameterM;
  const stiffness = (metal.elasticModulusPa * Math.PI * d ** 4) / 64;
  return {
    stressPa: (32 * weight * set.armM) / (Math.PI * d ** 3) + weight / areaOf(d),
    sagM: {
      label: 'Sag of the hook',
      kind: 'length',
      valueSi: (weight * set.armM ** 3) / (3 * stiffness),
      formula: 's = W·a³ / (3·E·π·d⁴/64)',
      inputs: [
        { symbol: 'W', label: 'weight on one hanger', kind: 'force', valueSi: weight },
        { symbol: 'a', label: 'reach of the hook', kind: 'length', valueSi: set.armM },
        { symbol: 'd', label: 'diameter', kind: 'length', valueSi: d },
      ],
      source: BEAM_SOURCE,
    },
  };
}

function wetAreaFigure(set: HangerSet): Figure {
  return {
    label: 'Bare hanger in the bath',
    kind: 'area',
    valueSi: set.count * Math.PI * set.diameterM * (set.wetLengthM + set.hookLengthM),
    formula: 'A = n · π · d · (L2 + L3)',
    inputs: [
      { symbol: 'n', label: 'wires', kind: 'count', valueSi: set.count },
      { symbol: 'd', label: 'diameter', kind: 'length', valueSi: set.diameterM },
      { symbol: 'L2', label: 'length in the bath', kind: 'length', valueSi: set.wetLengthM },
      { symbol: 'L3', label: 'bent end', kind: 'length', valueSi: set.hookLengthM },
    ],
    source: { standing: 'definition', text: 'surface of a cylinder' },
  };
}

/** The next thicker wire that does, more of the same, and another metal where that is what it takes. */
function fixesFor(set: HangerSet, duty: HangerDuty, system: UnitSystem): HangerFix[] {
  const fixes: HangerFix[] = [];
  const add = (candidate: HangerSet): void => {
    const { material, diameterM, count } = candidate;
    const size = formatQuantity('length', diameterM, system).text;
    fixes.push({ material, diameterM, count, text: `${count} × ${material}, ${size}` });
  };
  const thicker = WIRE_DIAMETERS_M.filter((d) => d > set.diameterM * 1.001)
    .map((diameterM) => ({ ...set, diameterM }))
    .find((candidate) => suffices(candidate, duty));
  if (thicker) add(thicker);
  for (let count = set.count + 1; count <= MOST_COUNT; count++) {
    const candidate = { ...set, count };
    if (!suffices(candidate, duty)) continue;
    add(candidate);
    break;
  }
  const other: HangerMaterial = set.material === 'Ti grade 2' ? 'Al 6061' : 'Al 1100';
  if (other !== set.material) {
    const swapped = WIRE_DIAMETERS_M.filter((d) => d >= set.diameterM * 0.999)
      .map((diameterM): HangerSet => ({ ...set, material: other, diameterM }))
      .find((candidate) => suffices(candidate, duty));
    if (swapped) add(swapped);
  }
  return fixes;
}

function requirePositive(values: Readonly<Record<string, unknown>>, names: readonly string[]): void {
  for (const name of names) {
    const value = values[name];
    if (!(typeof value === 'number' && value > 0))
      throw new RangeError(`checkHanger: ${name} is ${String(value)}`);
  }
}
