import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { EXPOSURE_LIMITS, RIM_EXHAUST, type ExposureLimit } from '../reference/exposure-limits.ts';

export interface MistAdvice {
  /** Air to draw off at the rim of the tank, through the open surface. */
  readonly exhaust: Figure;
  /** The strictest limit named for sulfuric mist over a working day. */
  readonly strictest: ExposureLimit;
  readonly limits: readonly ExposureLimit[];
}

/** Exhaust for a tank's open surface and the limits its mist is held to. Throws RangeError for a negative area. */
export function mistAdvice(surfaceM2: number): MistAdvice {
  if (!(surfaceM2 >= 0)) throw new RangeError(`mistAdvice: surfaceM2 is ${surfaceM2}`);
  const limits = EXPOSURE_LIMITS.filter((limit) => limit.substance === 'sulfuric acid mist');
  const daily = limits.filter((limit) => limit.over === 'working day');
  const strictest = daily.reduce((a, b) => (b.limitKgPerM3 < a.limitKgPerM3 ? b : a));
  return {
    exhaust: {
      label: 'Exhaust at the rim',
      kind: 'volumeFlow',
      unit: 'm³/h',
      valueSi: RIM_EXHAUST.usualMPerS * surfaceM2,
      lowSi: RIM_EXHAUST.lowMPerS * surfaceM2,
      highSi: RIM_EXHAUST.highMPerS * surfaceM2,
      formula: 'Q = 0.76 m/s · A',
      inputs: [figureInput('A', 'open surface', 'area', surfaceM2)],
      source: RIM_EXHAUST.source,
    },
    strictest,
    limits,
  };
}
