import type { Alloy } from '../reference/alloys.ts';
import { surfaceBudget, type Spread, type SurfaceEvent } from './metal-budget.ts';
import type { Window } from './coated-window.ts';

/** A size that has to hold after every redo. `factor` as in `growthFactor` and `flankFactor`: −2 bore, 2 shaft, ±4 thread. */
export interface GuardedSize {
  readonly label: string;
  readonly machinedM: number;
  readonly limits: Window;
  readonly factor: number;
}

export interface RedoRequest {
  /** The surface’s life so far, film still on it. */
  readonly past: readonly SurfaceEvent[];
  /** One redo: strip, usually an etch, coat again. */
  readonly redo: readonly SurfaceEvent[];
  readonly sizes: readonly GuardedSize[];
  /** Sizes that are masked in the bath and stand bare in every strip. */
  readonly bareSizes?: readonly GuardedSize[];
  readonly bareStrip?: { readonly soFar: number; readonly each: Spread };
  /** Thinnest wall of the part as machined, and the least it may get; null where it does not matter. */
  readonly wall: { readonly machinedM: number; readonly leastM: number } | null;
  readonly alloy: Alloy | null;
}

export interface RedoVerdict {
  readonly verdict: 'worth it' | 'last time' | 'hopeless';
  /** Redos until the first size leaves its limits for certain; `MOST_REDOS` means that many or more. */
  readonly redosLeft: number;
  readonly reasons: readonly string[];
}

export const MOST_REDOS = 10;
const TOO_MUCH_SILICON = 0.06;

/**
 * Whether stripping and coating again still makes a good part. A size counts as lost when even the kind end of every
 * range is outside its limits; as doubtful (`last time`) when the usual value is.
 */
export function redoVerdict(request: RedoRequest): RedoVerdict {
  const reasons: string[] = [];
  let redosLeft = MOST_REDOS;
  let doubtful = false;
  for (let count = 1; count <= MOST_REDOS; count++) {
    const repeated = Array.from({ length: count }, () => request.redo).flat();
    const { surface, metal } = surfaceBudget([...request.past, ...repeated]);
    const { bareSizes = [], bareStrip } = request;
    const strips = (bareStrip?.soFar ?? 0) + count;
    const bareM = (of: keyof Spread): number => -strips * (bareStrip?.each[of] ?? 0);
    const lost = [
      ...request.sizes.filter((size) => !canHold(size, surface.lowSi!, surface.highSi!)),
      ...bareSizes.filter((size) => !canHold(size, bareM('highM'), bareM('lowM'))),
    ];
    const outside = [
      ...request.sizes.filter((size) => !canHold(size, surface.valueSi, surface.valueSi)),
      ...bareSizes.filter((size) => !canHold(size, bareM('usualM'), bareM('usualM'))),
    ];
    const wallLost = request.wall !== null && request.wall.machinedM - 2 * metal.lowSi! < request.wall.leastM;
    if (count === 1) {
      for (const size of lost) reasons.push(`${size.label} would leave its limits for certain.`);
      for (const size of outside)
        if (!lost.includes(size)) reasons.push(`${size.label} would probably leave its limits.`);
      if (wallLost) reasons.push('The thinnest wall would get thinner than it may.');
      doubtful = outside.length > 0;
    }
    if (lost.length > 0 || wallLost) {
      redosLeft = count - 1;
      break;
    }
  }
  const silicon = request.alloy !== null && request.alloy.siliconHigh >= TOO_MUCH_SILICON;
  if (silicon) {
    reasons.push(
      `${request.alloy!.name} holds so much silicon that a redo comes out no better and smuts more.`,
    );
  }
  const verdict =
    redosLeft === 0 ? 'hopeless' : redosLeft === 1 || doubtful || silicon ? 'last time' : 'worth it';
  if (verdict === 'worth it') reasons.push('Every size given holds for at least two more redos.');
  if (verdict === 'last time' && redosLeft === 1)
    reasons.push('After one more redo nothing is left for another.');
  return { verdict, redosLeft, reasons };
}

/** Whether any surface between low and high keeps the size inside its limits. */
function canHold(size: GuardedSize, lowM: number, highM: number): boolean {
  const ends = [size.machinedM + size.factor * lowM, size.machinedM + size.factor * highM];
  return Math.max(...ends) >= size.limits.lowM - 1e-12 && Math.min(...ends) <= size.limits.highM + 1e-12;
}
