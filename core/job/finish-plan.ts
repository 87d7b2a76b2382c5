import type { BathHeat } from '../bath/plan-bath-heat.ts';
import type { RunPlan } from '../electrical/plan-run.ts';
import { scaleDye, type DyePot } from '../finish/dye-recipe.ts';
import { surfaceBudget, type SurfaceBudget } from '../finish/metal-budget.ts';
import { redoVerdict, type RedoVerdict } from '../finish/redo-verdict.ts';
import { sealTime, type SealPlan } from '../finish/seal-time.ts';
import { strip, type Strip } from '../finish/strip.ts';
import type { TroubleFacts } from '../finish/trouble-facts.ts';
import { alloyByName, type Alloy } from '../reference/alloys.ts';
import type { Result } from '../result.ts';
import { alloysTogether } from './alloys-together.ts';
import type { PartHangingPlan } from './hanging-plan.ts';
import { guardedSizes, type PartFitPlan } from './fit-plan.ts';
import { bareStrippedMetal, stripCount, strippedFirst, surfaceLife } from './job-growth.ts';
import { jobHeatVoltage } from './job-voltage.ts';
import type { Job, Part } from './job.ts';

/** The seal as planned; null where the job has none. */
export function jobSeal(job: Job): Result<SealPlan> | null {
  const { way, temperatureK, ph } = job.finish.seal;
  return way === 'none' ? null : sealTime(way, job.process.thicknessM, temperatureK, ph);
}

/** What the timer of a seal is set to: the middle of its range, to the half minute. */
export function sealTimerS(timeS: number): number {
  return timeS < 120 ? timeS : 30 * Math.round(timeS / 30);
}

/** The dye's recipe scaled to the pot; null without dye or pot. */
export function jobDyePot(job: Job): Result<DyePot> | null {
  const { use, recipe, potM3 } = job.finish.dye;
  return use && potM3 !== null ? scaleDye(recipe, potM3) : null;
}

export function alloyOf(name: string | null): Alloy | null {
  return name === null ? null : (alloyByName(name) ?? null);
}

const ALUMINIUM_KG_PER_M3 = 2700;

/**
 * The lye strip as typed, for all pieces of the parts that this run strips first; where it strips none, for those of the whole job,
 * as when all are done again.
 * @param coatedM2 of one piece, by part id
 */
export function jobStrip(job: Job, plan: RunPlan, coatedM2: Readonly<Record<string, number>>): Result<Strip> {
  const first = strippedFirst(job);
  const areaM2 = first.reduce((sum, { id, quantity }) => sum + quantity * (coatedM2[id] ?? 0), 0);
  const [some] = first.length > 0 ? first : job.parts;
  const { volumeM3, lyeKgPerM3, temperatureK, overTimeS } = job.finish.strip;
  return strip({
    volumeM3,
    lyeKgPerM3,
    temperatureK,
    overTimeS,
    areaM2: first.length === 0 ? plan.areaM2.valueSi : areaM2,
    filmM: job.process.thicknessM,
    metalDensityKgPerM3: alloyOf(some?.alloy ?? null)?.densityKgPerM3.usual ?? ALUMINIUM_KG_PER_M3,
    roomK: job.bath.airK,
  });
}

/** Metal gone and where the surface stands, after this job's coating; null when the strip is not known. */
export function jobBudget(job: Job, part?: Part): SurfaceBudget | null {
  const life = surfaceLife(job, part);
  return life === null ? null : surfaceBudget(life.past);
}

/** Whether stripping and coating a part again still makes a good one; null when the strip is not known. */
export function jobRedo(job: Job, part: Part, fits: PartFitPlan | undefined): RedoVerdict | null {
  const life = surfaceLife(job, part);
  if (life === null) return null;
  const { wallM, leastWallM } = part.strips;
  const bare = job.finish.strip.bareCovered ? null : bareStrippedMetal(job);
  return redoVerdict({
    ...life,
    sizes: guardedSizes(fits?.items ?? []),
    bareSizes: bare === null ? [] : guardedSizes(fits?.items ?? [], true),
    bareStrip: { soFar: stripCount(part), each: bare ?? { usualM: 0, lowM: 0, highM: 0 } },
    wall: wallM !== null && leastWallM !== null ? { machinedM: wallM, leastM: leastWallM } : null,
    alloy: alloyOf(part.alloy),
  });
}

/** Current over what the hangers carry at the allowed rise, of the one that has the least to spare. */
function hangerLoad({ contacts }: PartHangingPlan): number | null {
  const loads = contacts.map(
    ({ currentA, check }) => currentA / Math.min(check.capacityDryA.valueSi, check.capacityWetA.valueSi),
  );
  return loads.length === 0 ? null : Math.max(...loads);
}

/**
 * The larger share of what the supply gives that the plan takes, of amps and of volts; null where one of them is not known and
 * the other leaves room.
 */
function supplyShare(job: Job, plan: RunPlan | null): number | null {
  const { supplyCurrentLimitA, supplyVoltageLimitV } = job.process;
  const voltage = jobHeatVoltage(job);
  const amps = plan && supplyCurrentLimitA !== null ? plan.loadCurrentA.valueSi / supplyCurrentLimitA : null;
  const volts = voltage.ok && supplyVoltageLimitV !== null ? voltage.value.endV / supplyVoltageLimitV : null;
  const most = Math.max(amps ?? 0, volts ?? 0);
  return (amps === null || volts === null) && most < 1 ? null : most;
}

/** What this job knows about itself, for ranking the causes of a fault. What nobody measured is left out. */
export function troubleFacts(
  job: Job,
  plan: RunPlan | null,
  heat: BathHeat | null,
  part: Part | undefined,
  hangs: PartHangingPlan | undefined = undefined,
): TroubleFacts {
  const { bath, process, finish } = job;
  const alloy = alloyOf(part?.alloy ?? null);
  const filler = alloyOf(part?.filler ?? null);
  const area = plan?.areaM2;
  const fullest = fullestLoad(job, plan, part);
  const count = fullest ? sumOf(fullest) : null;
  return {
    ...alloysTogether(job, fullest ?? undefined, count),
    contactLoad: hangs ? hangerLoad(hangs) : null,
    areaSpread: area?.highSi === undefined ? null : area.highSi / area.valueSi,
    gasPocket: hangs?.traps ? hangs.traps.gasVolumeM3.valueSi > 0 : null,
    // Seams and threads hold acid that no trap of the model shows, so there is no "no" to this.
    holdsAcid: hangs?.traps && hangs.traps.liquidVolumeM3.valueSi > 0 ? true : null,
    bathStartK: heat?.startTemperature.valueSi ?? bath.temperatureK,
    bathEndK: heat?.endTemperature.valueSi ?? null,
    currentDensityAPerM2: process.currentDensityAPerM2,
    thicknessM: process.thicknessM,
    freeAcidKgPerM3: bath.acidKgPerM3,
    aluminiumKgPerM3: bath.aluminiumKgPerM3,
    rampS: process.rampS,
    supplyShare: supplyShare(job, plan),
    dyeK: finish.dye.use ? finish.dye.temperatureK : null,
    dyePh: finish.dye.use ? finish.dye.ph : null,
    sealK: finish.seal.way === 'none' ? null : finish.seal.temperatureK,
    sealPh: finish.seal.way === 'none' ? null : finish.seal.ph,
    siliconFraction: alloy?.siliconHigh ?? null,
    copperFraction: alloy?.copperHigh ?? null,
    fillerSiliconFraction: filler?.siliconHigh ?? null,
    pieces: plan ? Math.max(...plan.loads.map(({ pieces }) => sumOf(pieces))) : null,
    stirred: bath.stirred,
    waterBreakHeld: finish.waterBreakHeld,
    desmutted: finish.etch.use ? finish.desmut : null,
    masked: part ? hasMask(part) : null,
    redone: (part ? [part] : job.parts).some((one) => stripCount(one) > 0),
  };
}

const sumOf = (pieces: readonly number[]): number => pieces.reduce((sum, n) => sum + n, 0);

/** Pieces of the load that holds the most, among those with this part in it; null without a plan. */
function fullestLoad(job: Job, plan: RunPlan | null, part: Part | undefined): readonly number[] | null {
  const index = part ? job.parts.findIndex(({ id }) => id === part.id) : -1;
  const holding = plan?.loads.filter(({ pieces }) => index < 0 || (pieces[index] ?? 0) > 0) ?? [];
  return holding.map(({ pieces }) => pieces).sort((a, b) => sumOf(b) - sumOf(a))[0] ?? null;
}

function hasMask({ coverage: { mask, pieces = [] } }: Part): boolean {
  return mask.length > 0 || pieces.some(({ treatment }) => treatment === 'mask');
}
