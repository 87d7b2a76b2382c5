import { chargeConstantSource, ownCharge } from '../electrical/charge-source.ts';
import type { RunPlan } from '../electrical/plan-run.ts';
import { CHARGE_CONSTANT_DEFAULT } from '../reference/charge-constant.ts';
import type { LoadPlan } from '../shop/run-record.ts';
import { bathWarming } from './bath-plan.ts';
import { partById } from './edit-job.ts';
import { bathLimitK, bathStartK } from './bath-start.ts';
import { jobVoltage } from './job-voltage.ts';
import type { Job } from './job.ts';

/** No shop's runs say better than this about the next one. */
const LEAST_UNCERTAINTY = 0.02;

/**
 * One load of the plan as a run takes it with it.
 * @param load index of the load, from 0; throws RangeError when there is none
 */
export function loadPlan(job: Job, plan: RunPlan, load: number): LoadPlan {
  const planned = plan.loads[load];
  if (!planned) throw new RangeError(`loadPlan: load is ${load} of ${plan.loads.length}`);
  const { process, bath } = job;
  const voltage = jobVoltage(job);
  const own = ownCharge(process);
  const learnt = process.ownVoltage;
  const counts = job.parts.flatMap(({ id }, index) => {
    const count = planned.pieces[index] ?? 0;
    return count > 0 ? [{ partId: id, count }] : [];
  });
  return {
    load: load + 1,
    loads: plan.loads.length,
    pieces: counts.map(({ partId, count }) => `${count} × ${partById(job, partId).name}`).join(', '),
    counts,
    mode: 'current',
    areaM2: planned.areaM2,
    currentDensityAPerM2: process.currentDensityAPerM2,
    chargePerVolumeCPerM3: process.chargePerVolumeCPerM3,
    chargeRelativeUncertainty: own
      ? Math.max(LEAST_UNCERTAINTY, 2 * own.relativeSd)
      : CHARGE_CONSTANT_DEFAULT.relativeUncertainty,
    chargeSource: chargeConstantSource(process),
    thicknessM: process.thicknessM,
    rampS: process.rampS,
    holdS: plan.holdS.valueSi,
    supplyCurrentLimitA: process.supplyCurrentLimitA,
    supplyVoltageLimitV: process.supplyVoltageLimitV,
    bathTemperatureK: bathStartK(job),
    acidKgPerM3: bath.acidKgPerM3,
    bathLimitK: bathLimitK(job),
    bathWarming: bathWarming(job),
    expectedVoltageV: voltage.ok ? voltage.value.start.valueSi : null,
    learntVoltage: learnt
      ? {
          voltageV:
            learnt.voltageV + learnt.slopeVM2PerA * (process.currentDensityAPerM2 - learnt.densityAPerM2),
          voltageSdV: learnt.voltageSdV,
          slopeVM2PerA: learnt.slopeVM2PerA,
          slopeSdVM2PerA: learnt.slopeSdVM2PerA,
        }
      : null,
    unconfirmed: plan.areaM2.unconfirmed ?? null,
  };
}
