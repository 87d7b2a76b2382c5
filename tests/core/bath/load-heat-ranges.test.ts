import { expect, it } from 'vitest';
import { heatOverLoads } from '../../../core/bath/heat-over-loads.ts';
import { loadHeatRanges, type HeatCase } from '../../../core/bath/load-heat-ranges.ts';
import { valueOf } from '../value-of.ts';
import { HOUR_AT_15_V as run, SEALED } from './sealed-bath.ts';

const row = (limitK: number) => ({ currentsA: [4, 4, 2], limitK, pauseS: 1800, restPaths: SEALED });
const at = (voltageV: number): HeatCase => ({
  run: { ...run, voltageV },
  paths: SEALED,
  restPaths: SEALED,
});

it('a sealed bath takes the heat of 12 V at least and 20 V at most into the next load, by hand', () => {
  const loads = valueOf(heatOverLoads(run, SEALED, row(320)));
  const ranges = loadHeatRanges(loads, [at(12), at(20)], row(320));
  const spans = [
    [0, 0, 3.6, 6],
    [3.6, 6, 7.2, 12],
    [7.2, 12, 9, 15],
  ];
  ranges.forEach(({ startRangeK, endRangeK }, index) => {
    const kelvins = [...startRangeK, ...endRangeK!];
    kelvins.forEach((kelvin, at) => expect(kelvin - 293.15).toBeCloseTo(spans[index]![at]!, 6));
  });
});

it('a load that is cooled first starts where it is cooled to, whatever the losses; none is narrower than the best known', () => {
  const loads = valueOf(heatOverLoads(run, SEALED, row(299.15)));
  expect(loads[1]!.cooling).not.toBeNull();
  const [, second] = loadHeatRanges(loads, [at(20)], row(299.15));
  expect(second!.startRangeK).toEqual([293.15, 293.15]);
  // 4.5 K by the best known 15 V, 6 K at 20 V.
  expect(second!.endRangeK![0] - 293.15).toBeCloseTo(4.5, 6);
  expect(second!.endRangeK![1] - 293.15).toBeCloseTo(6, 6);
});

it('no warmest end is told where a bath may leave the tables', () => {
  const loads = valueOf(heatOverLoads(run, SEALED, row(320)));
  const ranges = loadHeatRanges(loads, [at(12), at(90)], row(320));
  // 27 K in the first load, to 47 °C; the second would reach 74 °C.
  expect(ranges[0]!.endRangeK![1] - 293.15).toBeCloseTo(27, 6);
  expect(ranges.slice(1).map(({ endRangeK }) => endRangeK)).toEqual([null, null]);
});
