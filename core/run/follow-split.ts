import { createHeldLevel } from './held-level.ts';
import { createNoiseTracker, sampleNoise } from './noise-tracker.ts';
import { learnSplit, PAST_PEAK_C_PER_M2, priorSplit, type VoltageSplit } from './ramp-fit.ts';
import { overPotential, renewSignal, setSignal } from './trace-signal.ts';
import {
  halfMinutes,
  liveArea,
  meanOf,
  medianOf,
  newest,
  type Sample,
  type WatchTrace,
} from './watch-trace.ts';

/**
 * How the voltage splits into E and U, followed through a run: learnt again and again while the current rises, fixed once it no
 * longer does, then moved along with the growing film and with each step.
 */
const RENEW_S = 25;
/** A meter may be noisier than the usual 1 %: the last samples show it. */
const NOISE_SAMPLES = 30;
/** A rise of the current in half a minute that is none any more, share. */
const STEADY_RISE = 0.02;
/** From one sample to the next, and how long it goes on. */
const SURGE = 1.25;
const SURGE_S = 45;

export function updateSplit(trace: WatchTrace): void {
  const { samples, plan } = trace;
  const now = newest(trace);
  const rising = currentRise(samples.slice(trace.rampFrom));
  if (trace.splitFixed || (trace.split && now.tS - trace.lastSplitS < RENEW_S)) return;
  trace.lastSplitS = now.tS;
  const tail = samples.slice(-6);
  const voltageV = medianOf(tail, 'voltageV');
  const prior = priorFor(trace, voltageV, medianOf(tail, 'currentA'));
  const settled = samples
    .slice(trace.rampFrom)
    .filter((sample) => sample.chargePerAreaC > PAST_PEAK_C_PER_M2);
  const split = learnSplit(
    settled.map((sample) => sample.voltageV),
    settled.map((sample) => sample.currentA),
    prior,
  );
  const fixed = rising < STEADY_RISE && !hasSurged(samples);
  trace.split = split;
  trace.splitFixed = fixed;
  const before = samples.slice(Math.max(trace.rampFrom, samples.length - NOISE_SAMPLES));
  const relative = (name: 'voltageV' | 'currentA', level: number, usual: number): number =>
    Math.max(usual, sampleNoise(before.map((sample) => sample[name])) / level);
  const spread =
    plan.mode === 'current' || !fixed
      ? (relative('voltageV', voltageV, 0.01) * voltageV) / split.overV
      : relative('currentA', prior.currentA, 0.012);
  trace.noise = createNoiseTracker({ whiteSd: spread, wanderSd: 0.5 * spread });
  trace.segmentFrom = Math.max(trace.rampFrom, samples.length - (fixed ? 5 : 12));
  trace.comparableFrom = trace.segmentFrom;
  if (fixed) {
    // What was held while the supply ramped is no guide to what it holds now.
    trace.heldVoltage = createHeldLevel();
    trace.heldCurrent = createHeldLevel();
  }
  for (let i = trace.segmentFrom; i < samples.length; i++) {
    const sample = samples[i]!;
    sample.heldV = trace.heldVoltage.add(sample.voltageV).level;
    sample.heldA = trace.heldCurrent.add(sample.currentA).level;
    setSignal(trace, i);
  }
  trace.noiseFrom = trace.segmentFrom;
}

function priorFor(trace: WatchTrace, voltageV: number, currentA: number): VoltageSplit {
  const { plan } = trace;
  const density = currentA / liveArea(trace);
  if (!plan.learntVoltage) return priorSplit(voltageV, currentA, density);
  const { slopeVM2PerA, slopeSdVM2PerA } = plan.learntVoltage;
  return {
    voltageV,
    currentA,
    overV: slopeVM2PerA * density,
    overSdV: Math.max(slopeSdVM2PerA, 0.08 * slopeVM2PerA) * density,
    learnt: true,
  };
}

/** Rise of the current over the last minute, share; medians, so that noise does not count. Not known while it is not that long. */
function currentRise(samples: readonly Sample[]): number {
  const now = samples.at(-1)!.tS;
  const { late, early } = halfMinutes(samples);
  if (late.length === 0 || early.length === 0) return now - samples[0]!.tS < 60 ? Infinity : 0;
  return medianOf(late, 'currentA') / medianOf(early, 'currentA') - 1;
}

/** A voltage raised by hand makes the current surge and fall back: a median that does not rise is no steady current then. */
function hasSurged(samples: readonly Sample[]): boolean {
  const now = samples.at(-1)!.tS;
  return samples.some(
    ({ tS, currentA }, i) => i > 0 && tS > now - SURGE_S && currentA > SURGE * samples[i - 1]!.currentA,
  );
}

/**
 * What the film's growth adds to the voltage at a held current belongs to E, not to U, or a lost area would show less
 * and less: E follows once they are too far apart, and the signal is worked out anew with it. Not while a fresh loss is still
 * being measured.
 */
export function followGrowth(trace: WatchTrace, lossFresh: boolean): void {
  const { samples } = trace;
  if (lossFresh || trace.plan.mode !== 'current' || !trace.splitFixed || samples.length % 6 !== 0) return;
  if (samples.length - trace.comparableFrom < 24 || samples.length - trace.segmentFrom < 12) return;
  const recent = samples.slice(-12);
  const voltageV = medianOf(recent, 'voltageV');
  const currentA = medianOf(recent, 'currentA');
  const split = trace.split!;
  const scale = currentA / split.currentA;
  const expected = split.overV * scale;
  if (Math.abs(overPotential(trace, voltageV) - expected) < 0.2 * expected) return;
  trace.split = { ...split, voltageV, currentA, overV: expected, overSdV: split.overSdV * scale };
  for (let i = trace.comparableFrom; i < samples.length; i++) renewSignal(trace, i);
}

/** After a step the live area has another U at the same current; E stays. */
export function scaleSplit(trace: WatchTrace, onset: number, step: number): void {
  if (trace.plan.mode !== 'current') return;
  const { samples } = trace;
  const before = meanOf(samples, Math.max(0, onset - 12), onset, 'currentA');
  const after = meanOf(samples, onset, samples.length, 'currentA');
  const factor = Math.min(10, Math.exp(-step) * (after / before));
  const split = trace.split!;
  trace.split = {
    ...split,
    voltageV: split.voltageV + split.overV * (factor - 1),
    overV: split.overV * factor,
    overSdV: split.overSdV * factor,
  };
}
