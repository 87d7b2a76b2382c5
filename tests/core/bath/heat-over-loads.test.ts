import { expect, it } from 'vitest';
import type { HeatPaths } from '../../../core/bath/heat-balance.ts';
import { heatOverLoads, type LoadsInARow } from '../../../core/bath/heat-over-loads.ts';
import { valueOf } from '../value-of.ts';
import { HOUR_AT_15_V as run, SEALED } from './sealed-bath.ts';

const sealed: HeatPaths = { ...SEALED, airK: 283.15 };
const row = (more: Partial<LoadsInARow>): LoadsInARow => ({
  currentsA: [4, 4, 2],
  limitK: 299.15,
  pauseS: 1800,
  restPaths: sealed,
  ...more,
});

it('a sealed bath keeps each load’s heat: current × voltage × time over its capacity, by hand', () => {
  const loads = valueOf(heatOverLoads(run, sealed, row({ limitK: 320 })));
  const ends = [297.65, 302.15, 304.4];
  loads.forEach(({ endK, cooling }, index) => {
    expect(endK).toBeCloseTo(ends[index]!, 6);
    expect(cooling).toBeNull();
  });
});

it('asks to cool before a load that would pass the limit, and only there', () => {
  // Limit 26 °C: load 1 ends at 24.5, load 2 would at 29.0 and is cooled to 20; load 3 takes 2.25 K, from 24.5 to 26.75.
  const loads = valueOf(heatOverLoads(run, sealed, row({})));
  expect(loads.map(({ cooling }) => cooling !== null)).toEqual([false, true, true]);
  const second = loads[1]!.cooling!;
  expect(second.fromK).toBeCloseTo(297.65, 6);
  expect(second.uncooledEndK).toBeCloseTo(302.15, 6);
  expect(second.toK).toBe(293.15);
  expect(second.latestStartK).toBeCloseTo(299.15 - 4.5, 3);
  expect(loads[2]!.cooling!.latestStartK).toBeCloseTo(299.15 - 2.25, 3);
  for (const { startK, endK } of loads) {
    expect(startK).toBe(293.15);
    expect(endK).toBeLessThan(299.15);
  }
  // m · (333.55 kJ/kg + 4.18 kJ/(kg·K) · 20 K) = 216 kJ (handbook values of melting and of water, rounded).
  expect(second.iceKg * (333.55 + 4.18 * 20)).toBeCloseTo(216, 0);
  expect(second.waitS).toBeNull();
});

it('waiting takes what Newton’s cooling takes: τ · ln of the differences to the room', () => {
  const walls: HeatPaths = { ...sealed, wallM2: 0.4, wallWPerM2K: 5 };
  const [, second] = valueOf(heatOverLoads(run, sealed, row({ restPaths: walls, pauseS: 0 })));
  const { fromK, latestStartK, waitS } = second!.cooling!;
  const tauS = 48_000 / (0.4 * 5);
  const bath = (kelvin: number): number => kelvin - 283.15;
  // Found to a day over 2^18, a third of a second.
  expect(Math.abs(waitS! - tauS * Math.log(bath(fromK) / bath(latestStartK)))).toBeLessThan(1);
});

it('a load that would boil the bath uncooled is cooled, not a reason for no answer', () => {
  const hot = { ...run, holdS: 25_000 };
  const [, second] = valueOf(heatOverLoads(hot, sealed, row({ limitK: 326, currentsA: [4, 4] })));
  expect(second!.cooling).toMatchObject({ uncooledEndK: null, toK: 293.15 });
});

it('a load that passes the limit from the planned start too is not asked to be cooled further', () => {
  const [first, second] = valueOf(heatOverLoads(run, sealed, row({ limitK: 295.15 })));
  expect(first!.cooling).toBeNull();
  expect(second!.cooling!.latestStartK).toBe(293.15);
});
