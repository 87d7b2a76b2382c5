import { VOLTAGE_SLOPE_V_M2_PER_A } from '../reference/cell-voltage-table.ts';
import { arrheniusFactor, DISSOLUTION_ACTIVATION_EV } from './oxide-cell.ts';
import type { Reading } from './readings.ts';
import { mostGrowthVPerM } from './trace-signal.ts';
import type { WatchPlan } from './watch-event.ts';

/**
 * What two readings minutes apart tell of the area: conductance I / (V − E) before and after. E, the part of the voltage that does not
 * go with the area, is not known: none of it to three quarters; over a longer time, in which the film grows, to all but what the
 * handbook's flattest slope leaves at this density. What is said to be lost must be a loss for any E.
 */
export const E_SHARE = { low: 0, likely: 0.6, high: 0.75, most: 0.9 } as const;
const USUAL_BATH_K = 293.15;
/** What a voltage read off a display is off by, share (common practice). */
const READ_OFF = 0.01;

/** Share of the live area that is left when the readings go from one to the other. */
export function shareLeft(from: Reading, to: Reading, eShare: number): number {
  const e = Math.min(eShare * from.voltageV, 0.98 * to.voltageV);
  const before = from.currentA / (from.voltageV - e);
  const after = to.currentA / (to.voltageV - e);
  return Math.min(1, Math.max(0, after / before));
}

/** The most that can be left between two readings in a row. */
export const mostLeft = (from: Reading, to: Reading): number =>
  Math.max(shareLeft(from, to, E_SHARE.low), shareLeft(from, to, E_SHARE.high));

/** The same over a longer time, `liveM2` being what was live at the first. */
export function mostLeftAtLast(from: Reading, to: Reading, liveM2: number): number {
  const high = Math.min(E_SHARE.most, 1 - leastOverV(from, liveM2) / from.voltageV);
  return Math.max(mostLeft(from, to), shareLeft(from, to, Math.max(E_SHARE.high, high)));
}

/** What the current takes of the voltage at least. */
const leastOverV = ({ currentA }: Reading, liveM2: number): number =>
  (VOLTAGE_SLOPE_V_M2_PER_A.low * currentA) / liveM2;

/** The least and the most that can be left when the readings go from one to the other, what is read being off by a little. */
export function boundsLeft(from: Reading, to: Reading): readonly [low: number, high: number] {
  const off = (reading: Reading, by: number): Reading => ({
    ...reading,
    voltageV: reading.voltageV * (1 + by),
  });
  const [more, less] = [off(to, READ_OFF), off(to, -READ_OFF)];
  const { low, high } = E_SHARE;
  return [
    Math.min(shareLeft(off(from, -READ_OFF), more, low), shareLeft(off(from, -READ_OFF), more, high)),
    Math.max(shareLeft(off(from, READ_OFF), less, low), shareLeft(off(from, READ_OFF), less, high)),
  ];
}

/**
 * A reading as it would be without what film and bath may have done in a sound run since an earlier one. A bath that got colder lets less
 * current through at any voltage; one that got warmer is sure to have saved no more than its share of what the current takes at least.
 */
export function granted(
  plan: WatchPlan,
  liveM2: number,
  { from, to, sinceC, unreadCoolingK }: Grant,
): Reading {
  const filmM = sinceC / (liveM2 * plan.chargePerVolumeCPerM3);
  const fromK = from.bathTemperatureK ?? USUAL_BATH_K;
  const read = from.bathTemperatureK !== undefined && to.bathTemperatureK !== undefined;
  const toK = read ? to.bathTemperatureK! : fromK - unreadCoolingK;
  const rate = arrheniusFactor(DISSOLUTION_ACTIVATION_EV, toK, fromK);
  const savedV = rate > 1 ? leastOverV(to, liveM2) * (1 - 1 / rate) : 0;
  const grownV = mostGrowthVPerM(plan) * filmM;
  return {
    ...to,
    voltageV: Math.max(to.voltageV + savedV - grownV, 0.05 * from.voltageV),
    currentA: to.currentA / Math.min(1, rate),
  };
}

/** What was read, and the charge that has passed between, C. */
export interface Grant {
  readonly from: Reading;
  readonly to: Reading;
  readonly sinceC: number;
  readonly unreadCoolingK: number;
}

/** A number misread, mistyped or spoiled is off by so much at most, share; more is something else. */
const SPOILED = 0.4;

/**
 * Whether one of both numbers, were it wrong, is all there is to it: with that as it was before, nothing is lost.
 *
 * @param isAlone the earlier reading may be the wrong one, by any amount: it is the first
 */
export function maySpoil(
  from: Reading,
  to: Reading,
  isLoss: (to: Reading) => boolean,
  isAlone: boolean,
): boolean {
  const most = isAlone ? Infinity : SPOILED;
  return (['voltageV', 'currentA'] as const).some(
    (name) => Math.abs(to[name] / from[name] - 1) <= most && !isLoss({ ...to, [name]: from[name] }),
  );
}
