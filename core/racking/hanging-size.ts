import { poseVertices } from './pose.ts';

/** A part's box as it hangs, metres: along and across the bar, and from its top to its bottom. */
export interface HangingSize {
  readonly alongM: number;
  readonly acrossM: number;
  readonly heightM: number;
  /** Middle of the box, metres, in the turned part's own frame (its model origin at 0). */
  readonly middleM: readonly [number, number, number];
  /** How deep it hangs in the liquid, from its lowest point up; absent where all of it is under the surface. */
  readonly depthM?: number;
}

/** Lowest point, metres, in the turned part's own frame. */
export const lowestOf = ({ middleM, heightM }: HangingSize): number => middleM[2] - heightM / 2;

/**
 * @param rotation model to tank, see Pose; the bar runs along x here
 * @param swingM room kept free to every side for swinging
 */
export function hangingSize(
  vertices: ArrayLike<number>,
  metresPerUnit: number,
  rotation: readonly number[],
  swingM: number,
): HangingSize {
  if (!(swingM >= 0)) throw new RangeError(`hangingSize: swingM is ${swingM}`);
  const posed = poseVertices(vertices, metresPerUnit, { rotation, offsetM: [0, 0, 0] });
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < posed.length; i++) {
    const k = i % 3;
    if (posed[i] < low[k]) low[k] = posed[i];
    if (posed[i] > high[k]) high[k] = posed[i];
  }
  return {
    alongM: high[0] - low[0] + 2 * swingM,
    acrossM: high[1] - low[1] + 2 * swingM,
    heightM: high[2] - low[2],
    middleM: [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2],
  };
}
