import { areaLeft, type AreaLeft } from './area-estimate.ts';
import { isHardCoat } from './trace-signal.ts';
import { newest, type Sample, type WatchTrace } from './watch-trace.ts';

/** What a pause in the readings of a hard coat seems to have hidden. */
export interface PauseLoss {
  readonly kind: 'contact-lost' | 'contact-resistance';
  /** The last reading before the pause. */
  readonly sinceS: number;
  readonly left: AreaLeft;
}

/** Readings that tell how the volts climbed before a pause, and after it. */
const BEFORE_S = 300;
const AFTER_S = 120;
const LEAST_SAMPLES = 12;
/** The current was not set anew. */
const ALIKE = 0.04;
/** The noise has colour, so that readings tell less than as many of their own. */
const COLOUR = 2;
const SURE = 2;
const NINE_IN_TEN = 1.645;
/** What a bath may cool in the pause, and the stirring change, share of U. */
const UNSEEN = 0.08;
/** Share of U that no lead explains. */
const LOST = 0.25;

/**
 * Tells whether contact was lost in a pause of a hard coat whose current is held. Its film takes volts as it grows, so over a pause they
 * stand higher anyway: at most by what the steeper of the two climbs, before the pause and after it, makes in that time, each with its doubt,
 * for the climb of a film sets in once and then goes on. What they stand above that, U has gained: the density on what is left.
 */
export function createPauseLoss(trace: WatchTrace) {
  let open:
    | { readonly before: Line; readonly dtS: number; readonly sinceS: number; readonly from: number }
    | undefined;
  return {
    /** Nothing was read until now; the next sample is the first again. */
    open(lastS: number, nowS: number): void {
      open = undefined;
      const { plan, samples, splitFixed } = trace;
      if (!isHardCoat(plan) || plan.mode !== 'current' || !splitFixed) return;
      const before = climb(
        samples.filter(({ tS }) => tS > lastS - BEFORE_S),
        lastS,
      );
      if (before) open = { before, dtS: nowS - lastS, sinceS: lastS, from: samples.length };
    },
    forget(): void {
      open = undefined;
    },
    /** What is told of the pause, once. */
    judge(): PauseLoss | undefined {
      if (!open || !trace.split) return undefined;
      const { before, dtS, sinceS, from } = open;
      const since = trace.samples.slice(from);
      const first = since[0];
      if (!first || newest(trace).tS - first.tS < AFTER_S) return undefined;
      open = undefined;
      const after = climb(since, first.tS);
      if (!after || Math.abs(after.currentA / before.currentA - 1) > ALIKE) return undefined;
      const steepest = Math.max(0, before.slope + SURE * before.slopeSd, after.slope + SURE * after.slopeSd);
      const overV = trace.split.overV;
      const jumpV = after.voltageV - before.voltageV;
      const doubtV = SURE * Math.hypot(before.sd, after.sd) + UNSEEN * overV;
      const leastV = jumpV - steepest * dtS - doubtV;
      if (!(leastV > 0)) return undefined;
      const usual = Math.max(0, (before.slope + after.slope) / 2);
      const stepOf = (excessV: number): number => -Math.log1p(Math.max(0, excessV) / overV);
      const [likely, least] = [stepOf(jumpV - usual * dtS), stepOf(leastV)];
      const share = areaLeft({
        step: likely,
        stepSd: (least - likely) / NINE_IN_TEN,
        currentRatio: 1,
        voltageV: before.voltageV,
        overV,
        likelyOverV: overV,
        overSdV: Math.hypot(trace.split.overSdV, 0.2 * overV),
      });
      const { value, low, high } = trace.left;
      const left = { value: value * share.value, low: low * share.low, high: high * share.high };
      const isLost = leastV > (LOST - UNSEEN) * overV;
      return { kind: isLost ? 'contact-lost' : 'contact-resistance', sinceS, left };
    },
  };
}

interface Line {
  readonly voltageV: number;
  readonly sd: number;
  /** V/s */
  readonly slope: number;
  readonly slopeSd: number;
  readonly currentA: number;
}

/** The straight line through the volts, at a moment; undefined where they are too few, or the current moved. */
function climb(samples: readonly Sample[], atS: number): Line | undefined {
  const n = samples.length;
  if (n < LEAST_SAMPLES) return undefined;
  const mean = (of: (sample: Sample) => number): number => samples.reduce((sum, one) => sum + of(one), 0) / n;
  const currentA = mean((one) => one.currentA);
  if (samples.some((one) => Math.abs(one.currentA / currentA - 1) > ALIKE)) return undefined;
  const midS = mean(({ tS }) => tS);
  const midV = mean(({ voltageV }) => voltageV);
  const spread = samples.reduce((sum, { tS }) => sum + (tS - midS) ** 2, 0);
  const slope = samples.reduce((sum, { tS, voltageV }) => sum + (tS - midS) * (voltageV - midV), 0) / spread;
  const rest = samples.reduce(
    (sum, { tS, voltageV }) => sum + (voltageV - midV - slope * (tS - midS)) ** 2,
    0,
  );
  const noise = COLOUR * Math.sqrt(rest / (n - 2));
  const slopeSd = noise / Math.sqrt(spread);
  return {
    voltageV: midV + slope * (atS - midS),
    sd: Math.hypot(noise / Math.sqrt(n), slopeSd * (atS - midS)),
    slope,
    slopeSd,
    currentA,
  };
}
