import { failure, success, type Result } from '../result.ts';
import type { Rest } from './balance.ts';
import { cross, dot, length, scale, subtract, unit, type Vec3 } from './vec3.ts';

/** Of the spread of the pins, level: nearer than this to one line, they hold the part about that line only. */
const IN_LINE = 1e-3;
/** Of the spread: rounding of a centre that lies straight under the edge of what the pins span. */
const SLACK = 1e-9;

/**
 * Three or more hangers on upright wires cut so that all are taut in the wanted attitude: the wires hold that attitude
 * as long as the centre of gravity lies, seen from above, within what the pins span. Upright forces and their moments
 * balance: Σ sᵢ = 1, Σ sᵢ·pᵢ = c, sᵢ ≥ 0. For three pins that has one answer. For more it has many, settled by tenths of
 * a millimetre of wire: then each share is a range, its ends found among the ways of hanging from three pins alone
 * (corners of the set of answers, as in any linear programme).
 *
 * Failures: `hangers-in-line` (seen from above), `hanger-unloaded` (the centre is outside, so wires go slack and the part tips).
 * @param pins three or more; model units
 */
export function restUnderMany(pins: readonly Vec3[], centre: Vec3, wantedUp: Vec3): Result<Rest> {
  if (pins.length < 3) throw new RangeError(`restUnderMany: ${pins.length} pins, three or more`);
  const up = unit(wantedUp);
  const level = (to: Vec3): Vec3 => {
    const from = subtract(to, pins[0]!);
    return subtract(from, scale(up, dot(from, up)));
  };
  const flat = pins.map(level);
  const aim = level(centre);
  const spread = Math.max(...flat.map(length));
  /** Twice the area of a corner triple, signed about `up`. */
  const area = (a: Vec3, b: Vec3, c: Vec3): number => dot(cross(subtract(b, a), subtract(c, a)), up);
  const low = pins.map(() => Infinity);
  const high = pins.map(() => -Infinity);
  let spans = false;
  let answers = 0;
  for (let i = 0; i < pins.length; i++) {
    for (let j = i + 1; j < pins.length; j++) {
      for (let k = j + 1; k < pins.length; k++) {
        const [a, b, c] = [flat[i]!, flat[j]!, flat[k]!];
        const whole = area(a, b, c);
        if (Math.abs(whole) < IN_LINE * spread * spread) continue;
        spans = true;
        const shares = [area(aim, b, c) / whole, area(a, aim, c) / whole, area(a, b, aim) / whole];
        if (shares.some((share) => share < -SLACK)) continue;
        answers++;
        for (let pin = 0; pin < pins.length; pin++) {
          const at = [i, j, k].indexOf(pin);
          const share = at < 0 ? 0 : Math.min(1, Math.max(0, shares[at]!));
          low[pin] = Math.min(low[pin]!, share);
          high[pin] = Math.max(high[pin]!, share);
        }
      }
    }
  }
  if (!spans) {
    return failure(
      'hangers-in-line',
      'Seen from above, all hangers stand in one line, so nothing but luck keeps the part from leaning about it.',
      'Move one pin out of the line, or use two hangers.',
    );
  }
  if (answers === 0) {
    return failure(
      'hanger-unloaded',
      'Seen from above, the centre of gravity is outside the hangers, so some of them go slack and the part tips.',
      'Move the pins to all sides of the centre of gravity.',
    );
  }
  const determined = high.every((share, pin) => share - low[pin]! < 1e-6);
  return success({
    up,
    tiltRad: 0,
    shares: determined ? high : [],
    mostShares: high,
    leastShares: low,
  });
}
