/**
 * Turned parts of fixed random sizes drawn in quads that are up to three times as wide as others, round the axis and along the outline: areas
 * against their closed forms (discs πr², flanks π(r₁ + r₂)s, zones of a sphere 2πRh, a torus 4π²Rr).
 */
import { describe, expect, it } from 'vitest';
import { facetCorrection } from '../../../core/faces/facet-correction.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { turnedPieces } from '../../../core/faces/turned-pieces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import type { PartGeometry } from '../../../core/mesh/part-geometry.ts';
import { drawnSolid, type Drawn } from '../../fixtures/drawn-solids.ts';
import { randomFrom } from '../../fixtures/round-solids.ts';
import { placed, turned } from '../../fixtures/shapes.ts';
import { staggeredTurned } from '../../fixtures/staggered-solids.ts';
import { TURNED, type Profile } from '../../fixtures/turned-outlines.ts';
import { randomSteps } from '../../fixtures/uneven-steps.ts';

const PI = Math.PI;
const analyse = (positions: Float32Array): PartGeometry =>
  analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });

/** What is left of the facets' error. The truth must lie in the range but for the rounding of the corners to 32 bits. */
function leftOf(positions: Float32Array, truth: number, words: string, mayAsk = false): number {
  const part = analyse(positions);
  const { total, ambiguous } = facetCorrection(part);
  if (!mayAsk) expect(ambiguous, words).toEqual([]);
  expect(total.low, words).toBeLessThan(truth * (1 + 1e-6));
  expect(total.high, words).toBeGreaterThan(truth * (1 - 1e-6));
  return Math.abs((total.corrected - truth) / (part.area - truth));
}

function leftOfDrawn(solid: Drawn, round: number, along: number, seed: number): number {
  const fineness = { round, along, uneven: 3, unevenAlong: 3 };
  const { positions, truth, words } = drawnSolid(solid, fineness, randomFrom(seed));
  return leftOf(positions, truth, words);
}

describe.each(TURNED)('%s, facets up to three times as wide as others both ways', (solid) => {
  it.each([
    [12, 12],
    [16, 24],
    [24, 12],
    [64, 32],
  ])('%d round, %d along', (round, along) => {
    for (let i = 0; i < 3; i++) {
      expect(leftOfDrawn(solid, round, along, 179_424_673 + 7919 * i + 1009 * round)).toBeLessThan(0.02);
    }
  });
});

it.each([
  ['spherical cap', 64, 12],
  ['spherical cap', 64, 16],
  ['cone in rings', 16, 16],
  ['cone in rings', 16, 12],
] as const)('%s of few zones with a narrow tip, %d round, %d along', (solid, round, along) => {
  for (let i = 0; i < 20; i++) {
    expect(leftOfDrawn(solid, round, along, 32_452_843 + 7919 * i)).toBeLessThan(0.02);
  }
});

it('a torus drawn with level zones at its top and bottom', () => {
  const [middle, across] = [20, 4];
  const section: Profile = Array.from({ length: 12 }, (_, i) => {
    const angle = ((i + 0.5) * PI) / 6;
    return [middle + across * Math.cos(angle), across * Math.sin(angle)];
  });
  for (const uneven of [1, 3]) {
    let at = 0;
    const angles = randomSteps(32, uneven, 2 * PI, randomFrom(5)).map((step) => (at += step));
    const truth = 4 * PI ** 2 * middle * across;
    expect(leftOf(staggeredTurned(section, angles, true), truth, 'staggered')).toBeLessThan(0.02);
    if (uneven > 1) expect(leftOf(turned(section, 32, true, angles), truth, 'quads')).toBeLessThan(0.02);
  }
});

describe('a ring of square section with chamfers, whose corners lie on a circle by symmetry', () => {
  /** Flanks of a closed outline. */
  const areaOf = (profile: Profile): number =>
    profile.reduce((sum, [r1, z1], i) => {
      const [r2, z2] = profile[(i + 1) % profile.length]!;
      return sum + PI * (r1 + r2) * Math.hypot(r1 - r2, z1 - z2);
    }, 0);
  const square = (inner: number, side: number, chamfer: number): Profile => {
    const [near, far, low, high] = [inner, inner + side, chamfer, side - chamfer];
    return [[near + low, 0], [near + high, 0], [far, low], [far, high], [near + high, side], [near + low, side], [near, high], [near, low]]; // prettier-ignore
  };
  // As wide as what is left of the side: a regular octagon.
  const OCTAGON = 1 / (2 + Math.SQRT2);

  it.each([0.03, 0.1, 0.2, 0.28, OCTAGON, 0.33])('chamfers of %d of its side', (share) => {
    for (const round of [12, 24, 64]) {
      const profile = square(12, 9, 9 * share);
      for (const uneven of [1, 3]) {
        let at = 0;
        const angles = randomSteps(round, uneven, 2 * PI, randomFrom(round)).map((step) => (at += step));
        const staggered = staggeredTurned(profile, angles, true);
        if (share !== OCTAGON || uneven > 1) {
          expect(leftOf(staggered, areaOf(profile), `staggered, ${round} round`, uneven === 1)).toBeLessThan(
            0.05,
          );
        }
        if (uneven === 1) continue;
        const quads = turned(profile, round, true, angles);
        expect(leftOf(quads, areaOf(profile), `quads, ${round} round`)).toBeLessThan(0.02);
      }
    }
  });

  it('where its chamfers are as long as what is left of its sides, it may be a torus drawn in eight steps', () => {
    let at = 0;
    const angles = randomSteps(32, 3, 2 * PI, randomFrom(5)).map((step) => (at += step));
    const [middle, across] = [20, 4];
    const section: Profile = Array.from({ length: 8 }, (_, i) => {
      const angle = ((i + 0.5) * PI) / 4;
      return [middle + across * Math.cos(angle), across * Math.sin(angle)];
    });
    const { total } = facetCorrection(analyse(turned(section, 32, true, angles)));
    expect(total.corrected / areaOf(section)).toBeCloseTo(1, 5);
    expect(total.high).toBeGreaterThan(4 * PI ** 2 * middle * across);
  });
});

describe('what is no round in quads of unlike widths', () => {
  const prism = (spans: readonly number[]): Float32Array => {
    let at = 0;
    const total = spans.reduce((sum, span) => sum + span, 0);
    const angles = spans.map((span) => (at += (span / total) * 2 * PI));
    const whole = turned([[0, 0], [10, 0], [10, 14], [0, 14]], spans.length, false, angles); // prettier-ignore
    return placed(whole, { turn: [0.1, 0.2, 0.3, Math.sqrt(0.86)] });
  };

  it('a hexagon bar with its edges broken, and a shaft with a flat', () => {
    const broken = Array.from({ length: 12 }, (_, i) => (i % 2 === 0 ? 2 : 1));
    expect(turnedPieces(analyse(prism(broken)))).toEqual([]);
    const flat = Array.from({ length: 32 }, (_, i) => (i === 7 ? 3 : 1));
    expect(turnedPieces(analyse(prism(flat)))).toEqual([]);
  });

  it('one width all round is left to the turns of its edges', () => {
    expect(turnedPieces(analyse(prism(Array<number>(24).fill(1))))).toEqual([]);
  });

  it('a prism of unlike sides whose corners lie on no circle', () => {
    const oval = prism([3, 2, 1, 3, 1, 2, 3, 2, 2, 1, 3, 1]).map((x, i) => (i % 3 === 0 ? 1.2 * x : x));
    expect(turnedPieces(analyse(oval))).toEqual([]);
  });

  it('a shaft of unlike facets is found, to see that the others could be', () => {
    expect(turnedPieces(analyse(prism([3, 2, 1, 3, 1, 2, 3, 2, 2, 1, 3, 1.5])))).toHaveLength(1);
  });
});
