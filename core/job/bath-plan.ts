import { bathLife, type BathLife } from '../bath/bath-life.ts';
import { filmLimit, type FilmLimit } from '../bath/film-limit.ts';
import type { HeatPaths } from '../bath/heat-balance.ts';
import { planBathHeat, type BathHeat, type BathHeatRequest } from '../bath/plan-bath-heat.ts';
import type { RunPlan } from '../electrical/plan-run.ts';
import type { Failure, Result } from '../result.ts';
import type { Job } from './job.ts';
import { bathLimitK, bathStartK, jobIcedBath } from './bath-start.ts';
import { bathVessel } from './bath-vessel.ts';
import { jobHeatVoltage } from './job-voltage.ts';

/** Heat given off by an open, still surface by air movement and radiation (from memory: 8-12 W/(m²·K)). */
const SURFACE_W_PER_M2_K = 10;

/** Whether lead hangs in the bath: said here, or a cathode of the job's tank. */
export function hasLead({ bath, tank }: Job): boolean {
  return bath.leadCathodes || (tank?.tank.cathodes.some(({ material }) => material === 'lead') ?? false);
}

/** How the bath of a job gives and takes heat; null while its volume is not known. */
export function bathPaths(job: Job): HeatPaths | null {
  const vessel = bathVessel(job);
  if (!vessel) return null;
  const { bath } = job;
  return {
    surfaceM2: vessel.surfaceM2,
    wallM2: vessel.wallM2,
    airK: bath.airK,
    relativeHumidity: bath.relativeHumidity,
    surfaceWPerM2K: SURFACE_W_PER_M2_K,
    wallWPerM2K: bath.wallWPerM2K,
    stirringW: bath.stirringW,
    chillerW: bath.chillerW,
    chillerSetK: bath.chillerSetK,
  };
}

/** What warms the job's bath by 1 K, and what it loses a kelvin through surface and walls; null while that is not known. */
export function bathWarming(job: Job): { capacityJPerK: number; lossWPerK: number } | null {
  const bath = jobIcedBath(job, 0);
  const paths = bathPaths(job);
  if (!bath || !paths) return null;
  const lossWPerK = paths.surfaceM2 * paths.surfaceWPerM2K + paths.wallM2 * paths.wallWPerM2K;
  return { capacityJPerK: bath.capacityJPerK, lossWPerK };
}

/** What the heat of the largest load's run, and of all loads in a row, is reckoned from; null while the volume is not known. */
export function bathHeatRequest(job: Job, plan: RunPlan): BathHeatRequest | null {
  const { bath } = job;
  const vessel = bathVessel(job);
  const paths = bathPaths(job);
  const voltage = jobHeatVoltage(job);
  if (!vessel || !paths || !voltage.ok) return null;
  return {
    volumeM3: vessel.volumeM3,
    acidKgPerM3: bath.acidKgPerM3,
    startK: bath.temperatureK,
    limitK: bathLimitK(job),
    currentA: plan.loadCurrentA.valueSi,
    loadsA: plan.loads.map(({ currentA }) => currentA),
    rampS: plan.rampS.valueSi,
    holdS: plan.holdS.valueSi,
    pauseS: bath.pauseS,
    voltage: voltage.value,
    paths,
    iceKg: bath.iceKg,
    iceInBottles: bath.iceInBottles,
    own: bath.ownHeating,
  };
}

/** Why no heat can be reckoned, in a few words and in full; null where it can. */
export function heatMissing(job: Job, plan: Result<RunPlan> | null): (Failure & { short: string }) | null {
  if (bathVessel(job) === null) {
    return {
      short: 'needs the bath’s volume',
      code: 'no-volume',
      message: 'How warm the bath gets hangs on how much of it there is.',
      remedy:
        'Type the bath’s volume above, or choose a tank: ten litres warm up ten times as fast as a hundred.',
    };
  }
  if (!plan?.ok) {
    return {
      short: 'needs the current',
      code: 'no-current',
      message: 'The heat follows from the current, which is not planned yet.',
      remedy: 'Open a part or type an area, and plan its current first.',
    };
  }
  const voltage = jobHeatVoltage(job);
  return voltage.ok ? null : { short: 'needs a known voltage', ...voltage.error };
}

export function jobHeat(job: Job, plan: RunPlan): Result<BathHeat> | null {
  const request = bathHeatRequest(job, plan);
  return request ? planBathHeat(request) : null;
}

/** Thickest film this bath leaves; null while no voltage can be said. */
export function jobFilmLimit(job: Job): Result<FilmLimit> | null {
  const voltage = jobHeatVoltage(job);
  if (!voltage.ok) return null;
  return filmLimit({
    currentDensityAPerM2: job.process.currentDensityAPerM2,
    temperatureK: bathStartK(job),
    acidKgPerM3: job.bath.acidKgPerM3,
    voltageV: voltage.value.endV,
    chargePerVolumeCPerM3: job.process.chargePerVolumeCPerM3,
  });
}

/** What this job's charge does to its bath; null while volume or aluminium is not known. */
export function jobBathLife(job: Job, plan: RunPlan): Result<BathLife> | null {
  const { aluminiumKgPerM3, acidKgPerM3 } = job.bath;
  const vessel = bathVessel(job);
  if (!vessel || aluminiumKgPerM3 === null) return null;
  const { volumeM3 } = vessel;
  const chargeC = plan.chargeC.valueSi;
  return bathLife({
    volumeM3,
    aluminiumKgPerM3,
    freeAcidKgPerM3: acidKgPerM3,
    chargePerVolumeCPerM3: job.process.chargePerVolumeCPerM3,
    areaPerCoulombM2: chargeC > 0 ? plan.areaM2.valueSi / chargeC : 0,
    chargeC,
  });
}
