import type { RunPlan } from '../electrical/plan-run.ts';
import type { MaskLine } from '../finish/mask-list.ts';
import { sayWindow } from '../finish/say-window.ts';
import type { Caution } from '../reference/cautions.ts';
import { readingTimes } from '../run/reading-times.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { FitItem } from './fit-plan.ts';
import type { JobStep } from './job-step.ts';
import { jobSteps } from './job-steps.ts';
import type { Job } from './job.ts';
import type { WetPlan } from './wet-messages.ts';
import { jobCautions } from './wet-steps.ts';

export interface RunSheet {
  /** The steps of the run, the same as on its board. */
  readonly steps: readonly JobStep[];
  readonly cautions: readonly Caution[];
  /** Per part, what to plug, cap and tape, and what has to be machined before; parts without either are left out. */
  readonly masks: readonly SheetMasks[];
  /** Minutes after power on at which a line of the readings table stands. */
  readonly readingMinutes: readonly number[];
}

export interface SheetMasks {
  readonly partId: string;
  readonly lines: readonly MaskLine[];
  /** "25H7: machine to 25.0203-25.0362 mm". */
  readonly machine: readonly string[];
}

/**
 * What goes on paper for one load, or for each load of a job; see job-steps.ts for the steps.
 *
 * @param wet heat and fits as worked out; without it the sheet says nothing of them
 * @param system the units that the reader's instruments show
 */
export function makeRunSheet(
  job: Job,
  plan: RunPlan,
  wet?: WetPlan,
  system: UnitSystem = 'metric',
): RunSheet {
  const rampS = plan.rampS.valueSi;
  const holdS = plan.holdS.valueSi;
  const ofSteps = {
    rampS,
    holdS,
    currentA: plan.loadCurrentA.valueSi,
    forAllLoads: plan.loads.length > 1 ? plan.loads.map(({ currentA }) => currentA) : (false as const),
  };
  return {
    steps: jobSteps(job, ofSteps, wet?.heat?.ok ? wet.heat.value : null, system),
    cautions: jobCautions(job),
    masks: job.parts.flatMap((part) => sheetMasks(part.id, wet, system)),
    readingMinutes: readingTimes(rampS / 60, (rampS + holdS) / 60),
  };
}

function sheetMasks(partId: string, wet: WetPlan | undefined, system: UnitSystem): SheetMasks[] {
  const fits = wet?.fits[partId];
  const machine = (fits?.items ?? []).flatMap((item) => machineLine(item, system));
  const lines = fits?.masks ?? [];
  return lines.length > 0 || machine.length > 0 ? [{ partId, lines, machine }] : [];
}

/** What the user said it is machined to, whatever the plan would ask for now. */
function machineLine({ verdict, fit, machined, window, masked }: FitItem, system: UnitSystem): string[] {
  if (verdict === 'tick again')
    return [`${fit.label}: ticked as machined before coating, size not kept: measure it`];
  if (!machined) return [];
  const line = `${fit.label}: machined to ${sayWindow(machined, system)} before coating`;
  if (verdict !== 'machined off') return [line];
  const { machineTo, before } = window ?? {};
  if (masked && before) return [`${line}, but it is masked and has to be ${sayWindow(before, system)}`];
  return [
    `${line}, but this plan needs ${machineTo ? sayWindow(machineTo, system) : 'another film or etch'}`,
  ];
}
