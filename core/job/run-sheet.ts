import type { RunPlan } from '../electrical/plan-run.ts';
import type { MaskLine } from '../finish/mask-list.ts';
import type { Caution } from '../reference/cautions.ts';
import { formatIn, formatNumber } from '../units/format-quantity.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { FitItem } from './fit-plan.ts';
import type { Job } from './job.ts';
import type { WetPlan } from './wet-messages.ts';
import { bathReady, dyeSteps, etchSteps, jobCautions, mixSteps, sealSteps } from './wet-steps.ts';

/** One line of the sheet with a box to tick. `minutes` is what to wait, in words; empty where there is nothing to time. */
export interface SheetStep {
  readonly id: string;
  readonly title: string;
  readonly detail: string;
  readonly minutes: string;
  /** What to write down beside it: "°C", "V". */
  readonly record: readonly string[];
  readonly source: string;
}

export interface RunSheet {
  readonly steps: readonly SheetStep[];
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

const PRACTICE = 'common practice';

/** About a dozen lines at round intervals, a quarter of an hour at most: a lost contact must be seen in time. */
export function readingTimes(rampMin: number, totalMin: number): number[] {
  const step = [1, 2, 5, 10].find((candidate) => totalMin / candidate <= 12) ?? 15;
  const half = (minute: number): number => Math.round(minute * 2) / 2;
  const times = new Set<number>([0, half(rampMin)]);
  for (let minute = step; minute < totalMin - step / 4; minute += step) times.add(minute);
  times.add(half(totalMin));
  return [...times].sort((a, b) => a - b);
}

/**
 * Everything to do at the tank, in order, for one load. Ramp and hold are the plan's; etch, dye and seal are the job's
 * own; the times of cleaning and rinsing are the usual ones of the trade.
 * @param wet heat and fits as worked out; without it the sheet says nothing of them
 * @param system the units that the reader's instruments show
 */
export function makeRunSheet(
  job: Job,
  plan: RunPlan,
  wet?: WetPlan,
  system: UnitSystem = 'metric',
): RunSheet {
  const rampMin = plan.rampS.valueSi / 60;
  const holdMin = plan.holdS.valueSi / 60;
  const amps = formatIn('current', plan.loadCurrentA.valueSi, 'A', 3).text;
  const perLoad = plan.loads.length > 1 ? ' (largest load; see the table of loads)' : '';
  const heat = wet?.heat?.ok ? wet.heat.value : null;
  const steps: SheetStep[] = [
    ...mixSteps(job, system),
    {
      id: 'ready',
      title: 'Ready?',
      detail: bathReady(job, heat, system),
      minutes: '',
      record: [system === 'us' ? 'bath °F' : 'bath °C'],
      source: PRACTICE,
    },
    {
      id: 'mask-and-hang',
      title: 'Mask and hang',
      detail:
        'Mask the faces listed. Clamp hard at the numbered pins on bare metal; pull at the part: it must not turn or rattle. No pocket may hold gas.',
      minutes: '',
      record: [],
      source: PRACTICE,
    },
    {
      id: 'clean',
      title: 'Degrease, rinse',
      detail: 'Warm cleaner, then rinse well. Gloves from here on: no fingers on the part.',
      minutes: '5-10',
      record: [],
      source: PRACTICE,
    },
    {
      id: 'water-break',
      title: 'Water-break test',
      detail: 'The water film must hold unbroken for a minute after lifting out. If it beads, clean again.',
      minutes: '1',
      record: [],
      source: 'ASTM F22, from memory',
    },
    ...etchSteps(job, system),
    {
      id: 'ramp',
      title: `Power on: ramp to ${amps}`,
      detail: `Part on plus. Raise the current evenly from zero to ${amps}${perLoad}.`,
      minutes: formatNumber(rampMin, 2),
      record: ['start (clock)'],
      source: 'the plan',
    },
    {
      id: 'hold',
      title: `Hold ${amps}`,
      detail:
        'Write down the readings. Volts jumping up, or amps falling, by a fifth or more at once: a contact is gone. Power off and look before you go on.',
      minutes: formatNumber(holdMin, 3),
      record: ['end (clock)'],
      source: 'the plan',
    },
    {
      id: 'rinse',
      title: 'Power off, rinse long',
      detail: 'Cold water, every hole and thread flushed: acid that drips into the dye spoils it.',
      minutes: '2-5',
      record: [],
      source: PRACTICE,
    },
    ...dyeSteps(job, system),
    ...sealSteps(job, system),
    {
      id: 'check',
      title: 'Dry, look, measure',
      detail: 'Thickness, colour, bare spots. Write down what you would change.',
      minutes: '',
      record: [system === 'us' ? 'mil' : 'µm'],
      source: PRACTICE,
    },
  ];
  return {
    steps,
    cautions: jobCautions(job),
    masks: job.parts.flatMap((part) => sheetMasks(part.id, wet, system)),
    readingMinutes: readingTimes(rampMin, rampMin + holdMin),
  };
}

function sheetMasks(partId: string, wet: WetPlan | undefined, system: UnitSystem): SheetMasks[] {
  const fits = wet?.fits[partId];
  const machine = (fits?.items ?? []).flatMap((item) => machineLine(item, system));
  const lines = fits?.masks ?? [];
  return lines.length > 0 || machine.length > 0 ? [{ partId, lines, machine }] : [];
}

/** In the millimetres that limits are written in, and in inches where the shop's micrometer reads those. */
function machineLine({ verdict, fit, window }: FitItem, system: UnitSystem): string[] {
  const to = window?.machineTo;
  if (verdict !== 'machined' || !to) return [];
  const between = (perMetre: number, digits: number): string =>
    `${(to.lowM * perMetre).toFixed(digits)}-${(to.highM * perMetre).toFixed(digits)}`;
  const inches = system === 'us' ? ` (${between(1000 / 25.4, 5)} in)` : '';
  return [`${fit.label}: machined to ${between(1000, 4)} mm${inches} before coating`];
}
