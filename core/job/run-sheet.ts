import type { RunPlan } from '../electrical/plan-run.ts';
import { cautionsFor, type Caution } from '../reference/cautions.ts';
import { formatIn, formatNumber } from '../units/format-quantity.ts';
import type { Job } from './job.ts';

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
  /** Minutes after power on at which a line of the readings table stands. */
  readonly readingMinutes: readonly number[];
}

const PRACTICE = 'common practice';
const SEAL_MIN_PER_UM = { low: 2, high: 3 };

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
 * Everything to do at the tank, in order, for one load. Times of cleaning, etching, dyeing are the usual ones of the
 * trade; ramp and hold are the plan's; the seal's follows from the thickness.
 */
export function makeRunSheet(job: Job, plan: RunPlan): RunSheet {
  const rampMin = plan.rampS.valueSi / 60;
  const holdMin = plan.holdS.valueSi / 60;
  const thicknessUm = job.process.thicknessM * 1e6;
  const amps = formatIn('current', plan.loadCurrentA.valueSi, 'A', 3).text;
  const perLoad = plan.loads.length > 1 ? ' (largest load; see the table of loads)' : '';
  const sealLow = formatNumber(Math.ceil(thicknessUm * SEAL_MIN_PER_UM.low), 2);
  const sealHigh = formatNumber(Math.ceil(thicknessUm * SEAL_MIN_PER_UM.high), 2);
  const steps: SheetStep[] = [
    {
      id: 'ready',
      title: 'Ready?',
      detail:
        'Bath stirred and at temperature (18-22 °C), cathodes clean and on minus, ventilation on, protection on, soda at hand.',
      minutes: '',
      record: ['bath °C'],
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
    {
      id: 'etch',
      title: 'Etch if wanted, rinse',
      detail:
        'Lye 30-45 g/L at 50-65 °C. It takes metal off every face and opens fits; leave it out on close fits.',
      minutes: '0-5',
      record: ['min'],
      source: 'Anodizing reference guide, C-22 etch',
    },
    {
      id: 'desmut',
      title: 'Desmut, rinse twice',
      detail: 'Until the grey smut is gone and the metal is bright.',
      minutes: '1-2',
      record: [],
      source: PRACTICE,
    },
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
    {
      id: 'dye',
      title: 'Dye if wanted, rinse cold',
      detail:
        'Straight from the rinse, never let it dry or get hot before. Pull, look, put back until it is right.',
      minutes: '5-15',
      record: ['dye', '°C', 'min'],
      source: PRACTICE,
    },
    {
      id: 'seal',
      title: 'Seal',
      detail:
        'Hot clean water at 96 °C or above, pH 5.5-6.5, 2-3 minutes per µm; nickel or cold seals by their maker’s sheet.',
      minutes: `${sealLow}-${sealHigh}`,
      record: ['°C', 'min'],
      source: 'Qualanod specifications, from memory',
    },
    {
      id: 'check',
      title: 'Dry, look, measure',
      detail: 'Thickness, colour, bare spots. Write down what you would change.',
      minutes: '',
      record: ['µm'],
      source: PRACTICE,
    },
  ];
  return {
    steps,
    cautions: cautionsFor(['general', 'acid', 'current', 'etch', 'dye', 'waste']),
    readingMinutes: readingTimes(rampMin, rampMin + holdMin),
  };
}
