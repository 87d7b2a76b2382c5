import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { heatBalance, type HeatPaths, type HeatRun } from '../../../core/bath/heat-balance.ts';
import { heatCourse } from '../../../core/bath/heat-course.ts';
import { valueOf } from '../value-of.ts';

const paths: HeatPaths = {
  airK: 293.15,
  relativeHumidity: 0.5,
  surfaceM2: 0.06,
  surfaceWPerM2K: 10,
  wallM2: 0.3,
  wallWPerM2K: 5,
  stirringW: 5,
  chillerW: 0,
  chillerSetK: 293.15,
};
const run: HeatRun = {
  startK: 293.15,
  capacityJPerK: 55_000,
  massFraction: 0.16,
  currentA: 6,
  voltageV: 15,
  reactionV: 2.9,
  rampS: 300,
  holdS: 3600,
  restS: 0,
};

describe('bath temperature over the run', () => {
  it('ends where the balance of the whole run ends, whatever the run', () => {
    fc.assert(
      fc.property(
        fc.record({
          currentA: fc.double({ min: 0.5, max: 12, noNaN: true }),
          rampS: fc.integer({ min: 0, max: 900 }),
          holdS: fc.integer({ min: 60, max: 5000 }),
        }),
        (change) => {
          const here = { ...run, ...change };
          const course = valueOf(heatCourse(here, paths));
          const whole = valueOf(heatBalance(here, paths));
          // Same equation in other steps, fourth order: far below a thousandth of a kelvin.
          expect(Math.abs(course.bathK.at(-1)! - whole.endK)).toBeLessThan(1e-6);
          expect(course.timeS.at(-1)).toBeCloseTo(here.rampS + here.holdS, 6);
          for (let i = 1; i < course.timeS.length; i++)
            expect(course.timeS[i]!).toBeGreaterThan(course.timeS[i - 1]!);
        },
      ),
      { numRuns: 20 },
    );
  });

  it('without any loss rises as charge does: square in the ramp, straight afterwards', () => {
    const closed: HeatPaths = { ...paths, surfaceM2: 0, wallM2: 0, stirringW: 0 };
    const { timeS, bathK } = valueOf(heatCourse(run, closed));
    const power = run.currentA * (run.voltageV + run.reactionV);
    timeS.forEach((t, i) => {
      const full = t <= run.rampS ? t ** 2 / (2 * run.rampS) : t - run.rampS / 2;
      expect(bathK[i]! - run.startK).toBeCloseTo((power * full) / run.capacityJPerK, 9);
    });
  });
});
