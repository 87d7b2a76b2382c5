import type { ProfileCorner } from './profile-circle.ts';

/** Area that a chord's arc sweeps out once round the axis, less what the chord does itself; by Pappus. */
export function arcGain(one: ProfileCorner, two: ProfileCorner, curvature: number): number {
  const [x, y] = [two.radius - one.radius, two.height - one.height];
  const chord = Math.hypot(x, y);
  const sine = (curvature * chord) / 2;
  if (!(Math.abs(sine) > 1e-9) || Math.abs(sine) >= 1) return 0;
  const half = Math.asin(sine);
  const middle = (one.radius + two.radius) / 2;
  // Arc and chord, and the segment between them: it stands out to the chord's right where the arc turns left.
  const longer = Math.abs(sine) < 0.05 ? (chord * sine * sine) / 6 : (chord * half) / sine - chord;
  // First moment of the arc about its chord: chord² times this.
  const cosine = Math.cos(half);
  const moment = Math.abs(sine) < 0.05 ? sine / 6 : (sine - half * cosine) / (2 * sine * sine);
  return 2 * Math.PI * (middle * longer + (chord * chord * moment * y) / chord);
}
