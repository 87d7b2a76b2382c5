import type { FitSide } from './parse-fit.ts';
import type { RoundFeature } from './round-features.ts';

/** Meshes give one diameter back to less than this; the finest fit typed for it spans twice as much. */
const ONE_SIZE_M = 2e-6;

/** Bores of one size and kind together: the drawing says "4×" and means all of them. */
export function alikeRounds(rounds: readonly RoundFeature[]): RoundFeature[][] {
  const groups: RoundFeature[][] = [];
  for (const round of rounds) {
    const key = ({ shape, lengthM, reach, slit }: RoundFeature): string =>
      [shape, lengthM.toPrecision(4), reach, slit].join();
    const group = groups.find(
      ([one]) => key(one!) === key(round) && Math.abs(one!.diameterM - round.diameterM) < ONE_SIZE_M,
    );
    if (group) group.push(round);
    else groups.push([round]);
  }
  return groups;
}

/** Which limits fit it: a bore's or a boss's. */
export const sideOf = ({ shape }: RoundFeature): FitSide => (shape === 'hole' ? 'internal' : 'external');
