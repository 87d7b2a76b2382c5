import { CONTACT_WEIGHTS, type ContactAdvice } from './advise-contacts.ts';
import { restUnderTwo, type Rest } from './balance.ts';
import { dot, subtract, unit, type Vec3 } from './vec3.ts';

/** Two of the proposed places together. */
export interface ContactPair {
  /** Rows of the advice it was made from. */
  readonly first: number;
  readonly second: number;
  readonly rest: Rest;
  /** 0 to 100. */
  readonly score: number;
  readonly reasons: readonly string[];
}

/** Beyond this the part does not hang as the traps were judged. */
const MOST_TILT_RAD = Math.PI / 4;

/**
 * Pairs of places for two hangers, best first: both places good, the part at rest near the wanted attitude, the weight
 * shared. Pairs that cannot carry (see restUnderTwo) are left out.
 * @param size diagonal of the part's box, model units
 */
export function rankContactPairs(
  advice: readonly ContactAdvice[],
  centre: Vec3,
  up: Vec3,
  size: number,
): ContactPair[] {
  const pairs: ContactPair[] = [];
  for (let first = 0; first < advice.length; first++) {
    for (let second = first + 1; second < advice.length; second++) {
      const pins = [advice[first].at, advice[second].at] as const;
      const rest = restUnderTwo(pins, centre, up, size);
      if (!rest.ok || rest.value.tiltRad > MOST_TILT_RAD) continue;
      const between = subtract(pins[1], pins[0]);
      const level = Math.hypot(...subtract(between, scaled(unit(up), dot(between, unit(up)))));
      pairs.push(judgePair(advice, first, second, rest.value, level / size));
    }
  }
  return pairs.sort((a, b) => b.score - a.score);
}

const scaled = (a: Vec3, s: number): Vec3 => [a[0] * s, a[1] * s, a[2] * s];

function judgePair(
  advice: readonly ContactAdvice[],
  first: number,
  second: number,
  rest: Rest,
  spread: number,
): ContactPair {
  // Balance was judged for each alone; as a pair they answer for it together.
  const alone = [first, second].map(
    (row) => advice[row].score - CONTACT_WEIGHTS.balance * advice[row].parts.balance,
  );
  const even = 2 * Math.min(...rest.shares);
  const steady = Math.min(1, 3 * spread);
  const together =
    CONTACT_WEIGHTS.balance * (0.5 * (1 - rest.tiltRad / MOST_TILT_RAD) + 0.25 * even + 0.25 * steady);
  const degrees = Math.round((rest.tiltRad * 180) / Math.PI);
  const [low, high] = [...rest.shares].sort((a, b) => a - b).map((share) => Math.round(100 * share));
  return {
    first,
    second,
    rest,
    score: (alone[0] + alone[1]) / 2 + together,
    reasons: [
      degrees <= 2
        ? 'On both it hangs as you turned it.'
        : `On both it comes to rest ${degrees}° from the attitude you chose.`,
      `They carry ${low} % and ${high} % of the weight.`,
      steady < 0.6
        ? 'They are close together, so the part can rock.'
        : 'They are well apart, so the part hangs steady.',
    ],
  };
}
