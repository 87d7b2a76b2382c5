/**
 * The current that an even ramp has come to, A; the whole of it from the ramp's end on, and where there is none.
 *
 * @param passedS since the ramp began
 */
export function rampCurrentA(fullA: number, rampS: number, passedS: number): number {
  return rampS > 0 ? fullA * Math.min(1, Math.max(0, passedS / rampS)) : fullA;
}
