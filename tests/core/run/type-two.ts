import type { ProgressPlan } from '../../../core/run/run-progress.ts';
import type { PlanToWatch } from '../../../core/run/watch-run.ts';

/** Type II, 25 µm on 5 dm² at 1.3 A/dm², brought up over five minutes; its bath has a limit of 24 °C. */
export const TYPE_TWO: PlanToWatch & ProgressPlan = {
  mode: 'current',
  areaM2: 0.05,
  currentDensityAPerM2: 130,
  chargePerVolumeCPerM3: 1.83e10,
  chargeRelativeUncertainty: 0.1,
  chargeSource: { standing: 'published', text: 'the 720 rule' },
  thicknessM: 25e-6,
  rampS: 300,
  supplyVoltageLimitV: null,
  supplyCurrentLimitA: null,
  learntVoltage: null,
  bathLimitK: 297.15,
};
/** Of that plan. */
export const FULL_A = 6.5;
