import type { HeatPaths, HeatRun } from '../../../core/bath/heat-balance.ts';

/** Nothing gets in or out but by the current. */
export const SEALED: HeatPaths = {
  airK: 293.15,
  relativeHumidity: 0.5,
  surfaceM2: 0,
  surfaceWPerM2K: 10,
  wallM2: 0,
  wallWPerM2K: 5,
  stirringW: 0,
  chillerW: 0,
  chillerSetK: 293.15,
};

/** An hour at 15 V into 48 kJ/K, its current to be set: 4 A make 216 kJ or 4.5 K, 0.3 K for each volt. */
export const HOUR_AT_15_V: HeatRun = {
  startK: 293.15,
  capacityJPerK: 48_000,
  massFraction: 0.162,
  currentA: 0,
  voltageV: 15,
  reactionV: 0,
  rampS: 0,
  holdS: 3600,
  restS: 0,
};
