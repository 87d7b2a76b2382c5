import { noiseNow } from './trace-signal.ts';
import { medianOf, newest, type WatchTrace } from './watch-trace.ts';

/** How long the current must have been steady, and over which last part of that the voltage is read. */
const STEADY_S = 120;
const READ_S = 60;

/**
 * The voltage against the shop's own runs, once, when the current has settled at the plan's: true where it is off, false where it
 * is not or can't be told, undefined while it is too early to say.
 */
export function voltageOffPlan(trace: WatchTrace): boolean | undefined {
  const { plan, samples } = trace;
  if (!plan.learntVoltage || plan.mode !== 'current') return false;
  const now = newest(trace);
  if (!trace.splitFixed || now.tS - samples[trace.comparableFrom]!.tS < STEADY_S) return undefined;
  const recent = samples.filter((sample) => sample.tS > now.tS - READ_S);
  if (Math.abs(medianOf(recent, 'currentA') / trace.plannedA - 1) > 0.05) return false;
  const { voltageV, voltageSdV } = plan.learntVoltage;
  // Three deviations of what the shop's runs differ by, and of this minute's noise.
  const { whiteSd, wanderSd } = noiseNow(trace);
  const noiseV = trace.split!.overV * Math.hypot(whiteSd / Math.sqrt(recent.length), wanderSd);
  return Math.abs(medianOf(recent, 'voltageV') - voltageV) > 3 * Math.hypot(voltageSdV, noiseV);
}
