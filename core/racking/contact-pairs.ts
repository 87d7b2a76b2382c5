import type { ContactAdvice } from './judge-place.ts';
import { restUnderTwo, type Rest } from './balance.ts';
import type { Result } from '../result.ts';
import { cross, dot, length, scale, subtract, unit, type Vec3 } from './vec3.ts';

/** How well two contacts hold the part together. */
export interface PairVerdict {
  readonly rest: Rest;
  /** 0 to 100. */
  readonly score: number;
  readonly reasons: readonly string[];
}

/** Two of the proposed places together. */
export interface ContactPair extends PairVerdict {
  /** Rows of the advice it was made from. */
  readonly first: number;
  readonly second: number;
}

/** Beyond this the part does not hang as the traps were judged. */
const MOST_TILT_RAD = Math.PI / 4;
/** Pins that lie a third of the part's size apart, level, hold it steady (common practice). */
const STEADY_SHARE = 1 / 3;
/** With the line of the pins a twentieth of the part's size above its centre of gravity a knock does not tip it. */
const ABOVE_SHARE = 1 / 20;
/** What is left at least: a pair that tilts, rocks or hangs on one wire still has its two places. */
const LEAST_SHARE = 0.4;

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
      const judged = judgeContactPair([advice[first]!, advice[second]!], centre, up, size);
      if (!judged.ok || judged.value.rest.tiltRad > MOST_TILT_RAD) continue;
      pairs.push({ first, second, ...judged.value });
    }
  }
  return pairs.sort((a, b) => b.score - a.score);
}

/**
 * Two contacts together, proposed or the user's own. The places count by their mean, and four things take that down, one
 * on top of the other: tilt, share of the weight, distance apart, and how far they are above the centre of gravity.
 * Failures: those of restUnderTwo.
 * @param size diagonal of the part's box, model units
 */
export function judgeContactPair(
  pair: readonly [Pick<ContactAdvice, 'at' | 'place'>, Pick<ContactAdvice, 'at' | 'place'>],
  centre: Vec3,
  up: Vec3,
  size: number,
): Result<PairVerdict> {
  const pins = [pair[0].at, pair[1].at] as const;
  const rest = restUnderTwo([...pins], centre, up, size);
  if (!rest.ok) return rest;
  const { tiltRad, shares } = rest.value;
  const between = subtract(pins[1], pins[0]);
  const level = subtract(between, scale(unit(up), dot(between, unit(up))));
  const apart = length(level) / size;
  const above = length(cross(subtract(centre, pins[0]), unit(between))) / size;
  const parts = {
    straight: Math.max(0, 1 - tiltRad / MOST_TILT_RAD),
    even: 2 * Math.min(...shares),
    apart: Math.min(1, apart / STEADY_SHARE),
    above: Math.min(1, above / ABOVE_SHARE),
  };
  const holds = parts.straight * parts.even * parts.apart * parts.above;
  const degrees = Math.round((tiltRad * 180) / Math.PI);
  const [low, high] = [...shares].sort((a, b) => a - b).map((share) => Math.round(100 * share));
  const carry = `They carry ${low} % and ${high} % of the weight`;
  return {
    ok: true,
    value: {
      rest: rest.value,
      score: ((pair[0].place + pair[1].place) / 2) * (LEAST_SHARE + (1 - LEAST_SHARE) * holds),
      reasons: [
        degrees === 0
          ? 'On both it hangs as you turned it.'
          : `On both it comes to rest ${degrees}° from the attitude you chose.`,
        parts.even >= 0.7
          ? `${carry}.`
          : parts.even >= 0.4
            ? `${carry}: unevenly, so the lighter one holds less well.`
            : `${carry}: nearly all hangs on one, and the other may lose contact.`,
        parts.apart < 0.6
          ? 'They are close together, so the part can rock and turn.'
          : parts.apart < 1
            ? 'They are not far apart: the part turns a little when it is knocked.'
            : parts.above < 0.6
              ? 'They are well apart.'
              : 'They are well apart, so the part hangs steady.',
        ...(parts.above < 0.6
          ? ['They are hardly above the centre of gravity, so a knock tips the part over.']
          : []),
      ],
    },
  };
}
