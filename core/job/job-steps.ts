import type { BathHeat } from '../bath/plan-bath-heat.ts';
import { hasPowerNow } from '../run/power-span.ts';
import { lostContactOnPaper, reclampUpToS } from '../run/watch-advice.ts';
import type { RunStep } from '../run/step-clock.ts';
import { stepCautions } from '../reference/step-cautions.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { hasLead } from './bath-plan.ts';
import type { JobStep } from './job-step.ts';
import { depthSentences, depthTitle, levelSentence } from './hung-depth.ts';
import type { Job } from './job.ts';
import { currentWords, loadCurrents } from './load-currents.ts';
import {
  bathReady,
  dyeSteps,
  etchSteps,
  mixSteps,
  rinse,
  sealHazards,
  sealSteps,
  stripSteps,
} from './wet-steps.ts';

/** What the steps need of the plan. */
export interface StepPlan {
  readonly rampS: number;
  readonly holdS: number;
  /** Of the load the steps are for; not looked at where they are for all. */
  readonly currentA: number;
  /** False for the steps of one load; else the currents of all loads, A, that the steps are for. */
  readonly forAllLoads: false | readonly number[];
}

const PRACTICE = 'common practice';

/**
 * Everything to do at the tank for one load, or for each load of a job, in order: the one list that sheet and board have. Ramp and hold are the plan's; etch,
 * dye and seal are the job's own; the times of cleaning and rinsing are the usual ones of the trade (common practice).
 *
 * @param job with its parts as they hang (hung-wires.ts), so that no depth is told that is none
 * @param heat how warm the run leaves the bath; null where it is not worked out
 * @param system the units that the reader's instruments show
 */
export function jobSteps(job: Job, plan: StepPlan, heat: BathHeat | null, system: UnitSystem): JobStep[] {
  const { rampS, holdS } = plan;
  if (!(rampS >= 0)) throw new RangeError(`jobSteps: rampS is ${rampS}`);
  if (!(holdS >= 0)) throw new RangeError(`jobSteps: holdS is ${holdS}`);
  const groups = loadCurrents(plan.forAllLoads || [plan.currentA]);
  const amps = groups.length === 1 ? groups[0]!.text : '';
  const to = currentWords(groups, 'to');
  const count = plan.forAllLoads ? plan.forAllLoads.length : 1;
  const each =
    count === 1 ? '' : amps === '' ? ' Each load has its own current.' : ` Each of the ${count} loads alike.`;
  const { chargePerVolumeCPerM3, currentDensityAPerM2 } = job.process;
  const depths = depthSentences(job.parts, system);
  const atLevel = levelSentence(job.parts, system);
  const earlyS = reclampUpToS(rampS, chargePerVolumeCPerM3 / currentDensityAPerM2);
  return [
    ...mixSteps(job, system),
    ...stripSteps(job, system),
    {
      id: 'ready',
      kind: 'ready',
      title: 'Ready?',
      detail: bathReady(job, heat, system, plan.forAllLoads !== false),
      plannedS: null,
      record: [system === 'us' ? 'bath °F' : 'bath °C'],
      source: PRACTICE,
    },
    {
      id: 'mask-and-hang',
      kind: 'hang',
      title: `Mask and hang${depthTitle(job.parts, system)}`,
      detail: `${depths === '' ? '' : `${depths} `}Wipe it free of oil and dry it first: plugs and tape hold on nothing else. Mask the faces listed. Clamp hard at the numbered pins on bare metal; pull at the part: it must not turn or rattle. No pocket may hold gas.`,
      plannedS: null,
      record: [],
      source: PRACTICE,
    },
    {
      id: 'clean',
      kind: 'clean',
      title: 'Degrease',
      detail:
        'Warm cleaner, 5 to 10 min, longer where it is greasy. Gloves from here on: no fingers on the part.',
      plannedS: 300,
      record: [],
      source: PRACTICE,
    },
    rinse('cleaning', 60),
    {
      id: 'water-break',
      kind: 'water-break',
      title: 'Water-break test',
      detail: 'The water film must hold unbroken for a minute after lifting out. If it beads, clean again.',
      plannedS: 60,
      record: [],
      source: 'ASTM F22, from memory',
    },
    ...etchSteps(job, system),
    ...(rampS > 0
      ? [
          {
            id: 'ramp',
            kind: 'ramp',
            title: amps === '' ? `Power on, ramp: ${to}` : `Power on, ramp ${to}`,
            detail: `Part on plus.${atLevel} Raise the current evenly from zero ${amps === '' ? 'to what the load takes' : to}.${each}`,
            plannedS: rampS,
            record: ['start (clock)'],
            source: 'the plan',
          } as const,
        ]
      : []),
    {
      id: 'hold',
      kind: 'hold',
      title: `${rampS > 0 ? 'Hold' : 'Power on, hold'}${amps === '' ? `: ${currentWords(groups, 'at')}` : ` ${amps}`}`,
      detail: `${rampS > 0 ? '' : `Part on plus.${atLevel} `}${rampS > 0 || each === '' ? '' : `${each.trim()} `}Write down the readings. Volts jumping up, or amps falling, by a fifth or more at once: a contact is gone. ${lostContactOnPaper(earlyS)}`,
      plannedS: holdS,
      record: ['end (clock)'],
      source: 'the plan',
    },
    {
      id: 'rinse',
      kind: 'rinse',
      title: 'Power off, rinse long',
      detail:
        'Cold water, 2 to 5 min, every hole and thread flushed: acid that drips into the dye spoils it.',
      plannedS: 120,
      record: [],
      source: PRACTICE,
    },
    ...dyeSteps(job, system),
    ...sealSteps(job, system),
    {
      id: 'check',
      kind: 'check',
      title: 'Dry, look, measure',
      detail: 'Thickness, colour, bare spots. Write down what you would change.',
      plannedS: null,
      record: [system === 'us' ? 'mil' : 'µm'],
      source: PRACTICE,
    },
  ];
}

/** The steps as the board's clock takes them, each with what can hurt there. */
export function runSteps(job: Job, steps: readonly JobStep[]): RunStep[] {
  const hazards = { seal: sealHazards(job), lead: hasLead(job) };
  return steps.map(({ kind, title, detail, plannedS }, index) => ({
    kind,
    label: title,
    plannedS,
    detail,
    cautions: stepCautions(kind, hazards, hasPowerNow(steps[index - 1])),
  }));
}
