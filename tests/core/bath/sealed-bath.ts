import type { HeatPaths } from '../../../core/bath/heat-balance.ts';

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
