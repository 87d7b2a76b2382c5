import { createContactWatch } from '../../../core/run/contact-watch.ts';
import { cellVoltage, type OxideCell } from '../../../core/run/oxide-cell.ts';
import { readingAt } from '../../../core/run/readings.ts';
import { seededRandom } from '../../../core/run/seeded-random.ts';
import { simulateRun, usualSetup, type SimulatedSetup } from '../../../core/run/simulated-run.ts';
import type { WatchEvent, WatchPlan } from '../../../core/run/watch-event.ts';

/**
 * Runs to judge the contact watch by. Everything a shop's run can differ in is drawn anew for each seed: the cell's
 * voltage, slope and curvature, growth, activation energy, series resistance, start-up peak, ramp, bath size and cooler,
 * whether the bath is read, and the meter's noise with its colour, stirring ripple, slow wander, rubbish readings and
 * steps. The noise of a reading is 1 % in all, sampled every 5 s.
 *
 * Even seeds were looked at while the watch's thresholds were chosen; odd ones never.
 */
export interface CorpusRun {
  readonly setup: SimulatedSetup;
  readonly plan: WatchPlan;
  readonly fault: { readonly atS: number; readonly lostShare: number } | null;
}

export function corpusRun(seed: number, fault: 'none' | 'contact' | 'ramp'): CorpusRun {
  const random = seededRandom(seed);
  const { unit, between } = random;
  const logBetween = (low: number, high: number): number => low * (high / low) ** unit();
  const mode = unit() < 0.5 ? 'current' : 'voltage';
  const hard = unit() < 0.12;
  const density = hard ? between(240, 390) : logBetween(62, 262);
  const areaM2 = logBetween(0.01, 1);
  const temperatureK = 273.15 + (hard ? between(-2, 5) : between(17, 23));
  const cell: OxideCell = {
    referenceDensityAPerM2: hard ? 300 : 129.17,
    referenceTemperatureK: temperatureK,
    referenceVoltageV: hard ? between(22, 32) : between(13, 16.5),
    slopeVM2PerA: hard ? between(0.025, 0.05) : between(0.03, 0.05),
    curvature: unit(),
    activationEv: between(0.36, 0.6),
  };
  const setCurrentA = density * areaM2;
  const steadyV = cellVoltage(cell, density, temperatureK);
  const rampS = fault === 'ramp' ? between(240, 420) : unit() < 0.2 ? 0 : between(60, 420);
  const durationS = Math.round(between(2400, 5400));
  const heatW = setCurrentA * (steadyV + 1.4);
  const atS = fault === 'ramp' ? rampS * between(0.6, 0.95) : between(rampS + 240, durationS - 240);
  const lostShare = unit() < 0.5 ? between(0.2, 0.35) : between(0.35, 0.9);
  const setup: SimulatedSetup = {
    ...usualSetup(areaM2, density, seed),
    mode,
    setVoltageV: steadyV,
    rampS,
    durationS,
    cell,
    seriesOhm: (between(0, 0.03) * steadyV) / setCurrentA,
    growthVPerM: between(0, 0.1e6),
    lateGrowthVPerM: hard ? between(0.2e6, 0.9e6) : 0,
    lateFromM: between(10e-6, 25e-6),
    startPeak: between(0.04, 0.17),
    supplyVoltageLimitV: 100,
    supplyCurrentLimitA: setCurrentA * between(1.5, 4),
    bath: {
      startK: temperatureK,
      // Warms by 0.03 to 0.2 K/min when nothing cools it.
      heatCapacityJPerK: heatW / (between(0.03, 0.2) / 60),
      lossWPerK: heatW * between(0, 0.02),
      surroundingsK: 293.15,
      coolerW: unit() < 0.6 ? heatW * between(1.2, 2) : 0,
      halfBandK: between(0.3, 1),
    },
    readTemperature: unit() < 0.5,
    noise: {
      relative: 0.01,
      colouredShare: between(0, 0.8),
      colourS: between(15, 120),
      ripple: between(0, 0.012),
      ripplePeriodS: logBetween(3, 60),
      wander: between(0, 0.015),
      wanderS: between(600, 2400),
      glitchChance: unit() < 0.5 ? between(0, 0.001) : 0,
      voltageStepV: unit() < 0.5 ? 0.01 : 0.1,
      currentStepA: setCurrentA * (unit() < 0.5 ? 0.001 : 0.005),
      temperatureStepK: 0.1,
    },
    faults:
      fault === 'none' ? [] : [{ kind: 'contact', atS, lostShare, overS: unit() < 0.5 ? 0 : between(0, 8) }],
  };
  const plan: WatchPlan = {
    mode,
    areaM2,
    currentDensityAPerM2: density,
    chargePerVolumeCPerM3: setup.chargePerVolumeCPerM3,
    rampS,
    supplyVoltageLimitV: null,
    supplyCurrentLimitA: null,
  };
  return { setup, plan, fault: fault === 'none' ? null : { atS, lostShare } };
}

export interface Watched {
  readonly events: readonly WatchEvent[];
  readonly hours: number;
}

export function watchCorpusRun(run: CorpusRun): Watched {
  const { readings } = simulateRun(run.setup);
  const watch = createContactWatch(run.plan);
  for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
  return { events: watch.events(), hours: readings.tS.at(-1)! / 3600 };
}

export interface CorpusScore {
  readonly runs: number;
  readonly hours: number;
  /** Lost contact said within a minute of its happening. */
  readonly inTime: number;
  readonly delaysS: readonly number[];
  /** How long after the loss it was said, seed by seed; null where it was not. */
  readonly saidAfterS: readonly (number | null)[];
  /** Alarms before anything was wrong, and their seeds. */
  readonly falseAlarms: number;
  readonly falseChecks: number;
  readonly cleanHours: number;
  /** Runs in which the range held the truth, of those called. */
  readonly held: number;
  readonly called: number;
  readonly meanWidth: number;
  readonly missedSeeds: readonly number[];
  readonly falseSeeds: readonly string[];
  readonly outsideSeeds: readonly string[];
}

export function scoreCorpus(seeds: readonly number[], fault: 'none' | 'contact' | 'ramp'): CorpusScore {
  let hours = 0;
  let cleanHours = 0;
  let inTime = 0;
  let falseAlarms = 0;
  let falseChecks = 0;
  let held = 0;
  let called = 0;
  let width = 0;
  const delaysS: number[] = [];
  const saidAfterS: (number | null)[] = [];
  const missedSeeds: number[] = [];
  const falseSeeds: string[] = [];
  const outsideSeeds: string[] = [];
  for (const seed of seeds) {
    const run = corpusRun(seed, fault);
    const { events, hours: length } = watchCorpusRun(run);
    hours += length;
    const faultAtS = run.fault?.atS ?? Infinity;
    cleanHours += Math.min(length, faultAtS / 3600);
    for (const event of events) {
      if (event.atS >= faultAtS) continue;
      if (event.level === 'alarm') {
        falseAlarms++;
        falseSeeds.push(`${seed}:${event.kind}@${event.atS}`);
      } else if (event.level === 'check' && event.kind !== 'bath-warming') {
        falseChecks++;
        falseSeeds.push(`${seed}:${event.kind}@${event.atS}`);
      }
    }
    if (!run.fault) continue;
    const said = events.find((event) => event.atS >= faultAtS && event.kind === 'contact-lost');
    saidAfterS.push(said ? said.atS - faultAtS : null);
    if (said && said.atS <= faultAtS + 60) inTime++;
    else missedSeeds.push(seed);
    if (!said) continue;
    called++;
    delaysS.push(said.atS - faultAtS);
    const truth = 1 - run.fault.lostShare;
    width += said.areaLeft[1] - said.areaLeft[0];
    if (said.areaLeft[0] <= truth && truth <= said.areaLeft[1]) held++;
    else
      outsideSeeds.push(`${seed}:${truth.toFixed(3)} in ${said.areaLeft.map((x) => x.toFixed(3)).join('-')}`);
  }
  delaysS.sort((a, b) => a - b);
  const meanWidth = called > 0 ? width / called : 0;
  return {
    runs: seeds.length,
    hours,
    inTime,
    delaysS,
    saidAfterS,
    falseAlarms,
    falseChecks,
    cleanHours,
    held,
    called,
    meanWidth,
    missedSeeds,
    falseSeeds,
    outsideSeeds,
  };
}
