import type { BuildUp } from './build-up.ts';

/** Two limits, m, low first. */
export interface Window {
  readonly lowM: number;
  readonly highM: number;
}

export type FitAdvice = 'coat as it is' | 'machine first' | 'mask';

export interface CoatedWindow {
  /** As machined, by the drawing. */
  readonly before: Window;
  /** What it may be once coated: as `before`, but for threads whose allowance is there for a coating. */
  readonly within: Window;
  /** Where sizes inside `before` end up, with the usual build-up. */
  readonly after: Window;
  /** Sizes before coating that end up inside the limits whatever the build-up in its range; null if there are none. */
  readonly machineTo: Window | null;
  /** Change of the size, usual build-up; negative where the size gets smaller. */
  readonly changeM: number;
  readonly advice: FitAdvice;
}

/** A change of a tenth of the tolerance or less is lost in ordinary machining scatter (common practice). */
const SMALL_SHARE = 0.1;

/**
 * Moves a tolerance window by the coating. `factor` is the size's change per unit of build-up: −2 for a bore, +2 for a
 * shaft, −4 and +4 for the pitch diameter of a 60° thread, ±1 and 0 for lengths. `within` holds `before`, and is it where nothing is said.
 */
export function coatedWindow(
  before: Window,
  factor: number,
  growth: BuildUp,
  within: Window = before,
): CoatedWindow {
  if (!(before.highM >= before.lowM)) {
    throw new RangeError(`coatedWindow: before is ${before.lowM} to ${before.highM}`);
  }
  if (!liesWithin(before, within)) {
    throw new RangeError(`coatedWindow: within is ${within.lowM} to ${within.highM}, before outside it`);
  }
  const changeM = factor * growth.usualM;
  const { least, most } = changes(factor, growth);
  // Metal that only the coating may use is not for the machine: of a 2A bolt, nothing over 2A.
  const machineTo = {
    lowM: Math.max(within.lowM - least, before.lowM - Math.max(0, most)),
    highM: Math.min(within.highM - most, before.highM + Math.max(0, -least)),
  };
  const possible = machineTo.highM > machineTo.lowM;
  const keeps = liesWithin({ lowM: before.lowM + least, highM: before.highM + most }, within);
  const small = Math.max(Math.abs(least), Math.abs(most)) <= SMALL_SHARE * (before.highM - before.lowM);
  return {
    before,
    within,
    after: { lowM: before.lowM + changeM, highM: before.highM + changeM },
    machineTo: possible ? machineTo : null,
    changeM,
    advice: small || keeps ? 'coat as it is' : possible ? 'machine first' : 'mask',
  };
}

function changes(factor: number, growth: BuildUp): { least: number; most: number } {
  const ends = [factor * growth.lowM, factor * growth.highM];
  return { least: Math.min(...ends), most: Math.max(...ends) };
}

/** Where sizes inside `before` can end up, over the whole range of the build-up. */
export function coatedEnds(before: Window, factor: number, growth: BuildUp): Window {
  const { least, most } = changes(factor, growth);
  return { lowM: before.lowM + least, highM: before.highM + most };
}

/** Limits are written to a tenth of a micrometre (say-window.ts): what that hides is no difference. */
const HIDDEN_M = 0.05e-6;

export function liesWithin(inner: Window, outer: Window): boolean {
  return inner.lowM >= outer.lowM - HIDDEN_M && inner.highM <= outer.highM + HIDDEN_M;
}

/** Change of the pitch diameter per unit of build-up: 2 / sin(half the flank angle); 4 for 60°, 4.33 for 55°. */
export function flankFactor(flankAngleRad: number): number {
  if (!(flankAngleRad > 0 && flankAngleRad < Math.PI)) {
    throw new RangeError(`flankFactor: flankAngleRad is ${flankAngleRad}`);
  }
  return 2 / Math.sin(flankAngleRad / 2);
}

/** What is measured on the part. */
export type Measured = 'hole' | 'shaft' | 'outside length' | 'inside length' | 'step';

/**
 * Change of a size per unit of build-up. `coatedFaces` of a length: 2, 1 or 0 of its two faces coated. A step lies
 * between two faces that look the same way: it moves only when one of them is masked; `upper` says which one is coated.
 */
export function growthFactor(measured: Measured, coatedFaces: 0 | 1 | 2 = 2, coatedUpper = true): number {
  switch (measured) {
    case 'hole':
      return coatedFaces === 0 ? 0 : -2;
    case 'shaft':
      return coatedFaces === 0 ? 0 : 2;
    case 'outside length':
      return coatedFaces;
    case 'inside length':
      return coatedFaces === 0 ? 0 : -coatedFaces;
    case 'step':
      return coatedFaces === 1 ? (coatedUpper ? 1 : -1) : 0;
  }
}
