import type { Pocket, Traps } from './find-traps.ts';

/**
 * Shallower than this and smaller than that, a pocket is none: what stays in it wets the metal as a drop does anywhere. An attitude that
 * was rounded to a few digits leaves such pockets in every corner (common practice: a tenth of a millimetre, a cubic millimetre).
 */
const LEAST_DEPTH_M = 1e-4;
const LEAST_VOLUME_M3 = 1e-9;

/** What of a part's traps counts while it stands out of the liquid. */
export type TrapsInBath<T extends Traps> = T & {
  /** Hollows below the level whose rim is above it: no liquid gets in over it, and none is carried out. */
  readonly shut: readonly Pocket[];
};

/**
 * Traps of a part that hangs with its level at a height of its own: no gas is kept where a pocket opens above the liquid, and a
 * hollow fills only where its rim is under it. Gas in a pocket that opens under the level stays, up to the pocket's top.
 * @param metresPerUnit of the part's model
 * @param level along `traps.up` in the model's own coordinates and unit; undefined where all of it is in the bath
 */
export function trapsInBath<T extends Traps>(
  all: T,
  metresPerUnit: number,
  level: number | undefined,
): TrapsInBath<T> {
  const counts = ({ depth, volume }: Pocket): boolean =>
    depth * metresPerUnit >= LEAST_DEPTH_M || volume * metresPerUnit ** 3 >= LEAST_VOLUME_M3;
  const traps = { ...all, gas: all.gas.filter(counts), liquid: all.liquid.filter(counts) };
  if (level === undefined) return { ...traps, shut: [] };
  return {
    ...traps,
    gas: traps.gas.filter((pocket) => pocket.level < level),
    liquid: traps.liquid.filter((pocket) => pocket.level <= level),
    // A hollow is as deep as its depth under its rim.
    shut: traps.liquid.filter((pocket) => pocket.level > level && pocket.level - pocket.depth < level),
  };
}
