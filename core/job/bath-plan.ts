import { bathLife, type BathLife } from '../bath/bath-life.ts';
import { filmLimit, type FilmLimit } from '../bath/film-limit.ts';
import type { HeatPaths } from '../bath/heat-balance.ts';
import { planBathHeat, type BathHeat, type BathHeatRequest } from '../bath/plan-bath-heat.ts';
import type { RunPlan } from '../electrical/plan-run.ts';
import type { Result } from '../result.ts';
import type { Bath } from './job-bath.ts';
import type { Job } from './job.ts';
import { jobVoltage } from './job-voltage.ts';

/** Heat given off by an open, still surface by air movement and radiation (from memory: 8-12 W/(m²·K)). */
const SURFACE_W_PER_M2_K = 10;

/** Open liquid and wetted walls: as typed, or those of a cube of the bath's volume. */
export function bathSurfaces(bath: Bath): { readonly surfaceM2: number; readonly wallM2: number } | null {
  if (bath.volumeM3 === null && (bath.surfaceM2 === null || bath.wallM2 === null)) return null;
  const face = Math.cbrt(bath.volumeM3 ?? 0) ** 2;
  return { surfaceM2: bath.surfaceM2 ?? face, wallM2: bath.wallM2 ?? 5 * face };
}

/** How the bath of a job gives and takes heat; null while its volume is not known. */
export function bathPaths(bath: Bath): HeatPaths | null {
  const surfaces = bathSurfaces(bath);
  if (!surfaces) return null;
  return {
    ...surfaces,
    airK: bath.airK,
    relativeHumidity: bath.relativeHumidity,
    surfaceWPerM2K: SURFACE_W_PER_M2_K,
    wallWPerM2K: bath.wallWPerM2K,
    stirringW: bath.stirringW,
    chillerW: bath.chillerW,
    chillerSetK: bath.chillerSetK,
  };
}

/** What the heat of one load's run is reckoned from; null while the volume or the voltage is not known. */
export function bathHeatRequest(job: Job, plan: RunPlan): BathHeatRequest | null {
  const { bath } = job;
  const paths = bathPaths(bath);
  const voltage = jobVoltage(job);
  if (bath.volumeM3 === null || !paths || !voltage.ok) return null;
  const { start, end } = voltage.value;
  return {
    volumeM3: bath.volumeM3,
    acidKgPerM3: bath.acidKgPerM3,
    startK: bath.temperatureK,
    limitK: bath.limitK,
    currentA: plan.loadCurrentA.valueSi,
    rampS: plan.rampS.valueSi,
    holdS: plan.holdS.valueSi,
    pauseS: bath.pauseS,
    voltage: {
      valueV: (start.valueSi + end.valueSi) / 2,
      lowV: start.lowSi ?? start.valueSi,
      highV: end.highSi ?? end.valueSi,
    },
    paths,
    iceKg: bath.iceKg,
    iceInBottles: bath.iceInBottles,
  };
}

export function jobHeat(job: Job, plan: RunPlan): Result<BathHeat> | null {
  const request = bathHeatRequest(job, plan);
  return request ? planBathHeat(request) : null;
}

/** Thickest film this bath leaves; null while the voltage is not known. */
export function jobFilmLimit(job: Job): Result<FilmLimit> | null {
  const voltage = jobVoltage(job);
  if (!voltage.ok) return null;
  return filmLimit({
    currentDensityAPerM2: job.process.currentDensityAPerM2,
    temperatureK: job.bath.temperatureK,
    acidKgPerM3: job.bath.acidKgPerM3,
    voltageV: voltage.value.end.valueSi,
    chargePerVolumeCPerM3: job.process.chargePerVolumeCPerM3,
  });
}

/** What this job's charge does to its bath; null while volume or aluminium is not known. */
export function jobBathLife(job: Job, plan: RunPlan): Result<BathLife> | null {
  const { volumeM3, aluminiumKgPerM3, acidKgPerM3 } = job.bath;
  if (volumeM3 === null || aluminiumKgPerM3 === null) return null;
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
