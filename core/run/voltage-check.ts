import { expectedVoltage } from '../bath/expected-voltage.ts';
import { noiseNow } from './trace-signal.ts';
import { medianOf, newest, type WatchTrace } from './watch-trace.ts';

/**
 * The voltage against what is to be expected, once, when the current has been steady at the plan's for a while: against the shop's
 * own runs where it has some, else against the handbook's range. A part that never had contact, or lost it before the ramp's line
 * could show it, stands here and nowhere else.
 */
export type VoltageStanding = 'voltage-off-plan' | 'voltage-high' | 'voltage-low' | 'as-expected';

/** How long the current must have been steady, and over which last part of that the voltage is read. */
const STEADY_S = 120;
const READ_S = 60;
/** Where the plan does not say: the handbook's own conditions. */
const USUAL_BATH = { temperatureK: 293.65, acidKgPerM3: 165 } as const;
/** What the handbook's range leaves out: leads and meter, and a bath whose temperature nobody has said (3 K at 2-4 % each). */
const LEADS_V = 0.5;
const UNREAD_BATH_SHARE = 0.09;

/** `as-expected` also where it can't be told; undefined while it is too early to say. */
export function voltageStanding(trace: WatchTrace): VoltageStanding | undefined {
  const { plan, samples } = trace;
  if (plan.mode !== 'current') return 'as-expected';
  const now = newest(trace);
  if (!trace.splitFixed || now.tS - samples[trace.comparableFrom]!.tS < STEADY_S) return undefined;
  const recent = samples.filter((sample) => sample.tS > now.tS - READ_S);
  if (Math.abs(medianOf(recent, 'currentA') / trace.plannedA - 1) > 0.05) return 'as-expected';
  const readV = medianOf(recent, 'voltageV');
  // Three deviations of this minute's noise.
  const { whiteSd, wanderSd } = noiseNow(trace);
  const noiseV = trace.split!.overV * Math.hypot(whiteSd / Math.sqrt(recent.length), wanderSd);
  if (plan.learntVoltage) {
    const { voltageV, voltageSdV } = plan.learntVoltage;
    return Math.abs(readV - voltageV) > 3 * Math.hypot(voltageSdV, noiseV)
      ? 'voltage-off-plan'
      : 'as-expected';
  }
  // A loss that has been said explains a high voltage.
  if (trace.left.value < 1) return 'as-expected';
  const book = bookRange(trace);
  if (!book) return 'as-expected';
  if (readV > book.highV + 3 * noiseV) return 'voltage-high';
  return readV < book.lowV - 3 * noiseV ? 'voltage-low' : 'as-expected';
}

function bookRange(trace: WatchTrace): { readonly lowV: number; readonly highV: number } | undefined {
  const { plan } = trace;
  const said = newest(trace).kelvin ?? plan.bathTemperatureK;
  const expected = expectedVoltage(
    {
      currentDensityAPerM2: plan.currentDensityAPerM2,
      temperatureK: said ?? USUAL_BATH.temperatureK,
      acidKgPerM3: plan.acidKgPerM3 ?? USUAL_BATH.acidKgPerM3,
    },
    trace.chargePerAreaC / plan.chargePerVolumeCPerM3,
    [],
  );
  if (!expected.ok) return undefined;
  const { start, end } = expected.value;
  const unreadV = said === undefined ? UNREAD_BATH_SHARE * start.valueSi : 0;
  return {
    lowV: Math.min(start.lowSi!, end.lowSi!) - LEADS_V - unreadV,
    highV: Math.max(start.highSi!, end.highSi!) + LEADS_V + unreadV,
  };
}
