import { leastSquares } from './least-squares.ts';
import { mostGrowthVPerM } from './trace-signal.ts';
import type { WatchPlan } from './watch-event.ts';
import { newest, type Sample, type WatchTrace } from './watch-trace.ts';
import type { Level, LossKept } from './whole-again.ts';

/**
 * Does the part that let go have contact again, told while a new ramp still rises: where it passes the current (of a supply that holds
 * that) or the voltage at which the area was whole, and at which it was lost, the other quantity is as it was then, whatever E is.
 * What the film has done meanwhile is granted: the start-up peak died away, the barrier layer was built on, the film grew.
 */
export interface LevelAnswer {
  /** Share of the loss that is still there, least and most: 0 whole, 1 as lost. */
  readonly least: number;
  readonly most: number;
}

/** Samples so near a level count for it, share. */
const NEAR = { current: 0.15, voltage: 0.08 } as const;
const FEWEST = 5;
/** Of a level that the supply stays at so many samples are enough. */
const STAYS = 12;
/** Start-up peak, share of V at most, and how it dies away with the charge (papers, from memory: 5-15 %); what builds the barrier layer. */
const PEAK = { share: 0.25, decayC: 2500 } as const;
const BARRIER_DECAY_C = 400;
const NINE_IN_TEN = 1.645;
/** A loss that shows less than this share of U can't be told from its return. */
const LEAST_LOST = 0.1;
const DEVIATIONS = 2;

/** undefined while the new ramp has not passed both levels. */
export function lossStillThere(kept: LossKept, trace: WatchTrace): LevelAnswer | undefined {
  const { before, during, overV, overSdV, left, leftBefore } = kept;
  if (!during) return undefined;
  const lnShare = Math.log(Math.max(left.value, 0.01) / leftBefore.value);
  if (!(lnShare < 0)) return undefined;
  const inCurrent = trace.plan.mode === 'current';
  const leasts: number[] = [];
  const mosts: number[] = [];
  for (const [level, wasLost] of [
    [before, 0],
    [during, 1],
  ] as const) {
    const bounds: number[] = [];
    const now = readAt(trace, level);
    if (!now) return undefined;
    const chargeC = now.chargePerAreaC + during.chargePerAreaC;
    const away = moved(level, chargeC, trace.plan);
    if (inCurrent) {
      // The volts that the lost area takes more at this current: what they rose by then, less what the current's own rise took.
      for (const over of [
        Math.max(overV - NINE_IN_TEN * overSdV, 0.35 * overV),
        overV + NINE_IN_TEN * overSdV,
      ]) {
        const rise = during.currentA / before.currentA;
        const lostV = during.voltageV - before.voltageV - over * (rise - 1);
        const scaleV = lostV * (level.currentA / during.currentA);
        if (!(scaleV > LEAST_LOST * over)) return undefined;
        for (const volts of [away.leastV - DEVIATIONS * now.sd, away.mostV + DEVIATIONS * now.sd])
          bounds.push(wasLost + (now.value - level.voltageV + volts) / scaleV);
      }
    } else {
      for (const volts of [away.leastV, away.mostV]) {
        for (const noise of [-DEVIATIONS * now.sd, DEVIATIONS * now.sd])
          bounds.push(
            wasLost + (Math.log(level.currentA) - now.value + volts * now.slope + noise) / -lnShare,
          );
      }
    }
    leasts.push(Math.min(...bounds));
    mosts.push(Math.max(...bounds));
  }
  // In current each level bounds it alone, and that the two contradict one another tells nothing; at a held voltage the film's own
  // change is the larger doubt, and both must agree.
  if (!inCurrent) return { least: Math.min(...leasts), most: Math.max(...mosts) };
  const [least, most] = [Math.max(...leasts), Math.min(...mosts)];
  return least <= most ? { least, most } : undefined;
}

/**
 * By how much the voltage at a level, whole or not, may stand lower now than it did, V: the peak has gone and takes less, what the
 * barrier and the film have grown takes more.
 */
function moved(
  { voltageV, chargePerAreaC: thenC }: Level,
  nowC: number,
  plan: WatchPlan,
): { readonly leastV: number; readonly mostV: number } {
  const died = (decayC: number): number => Math.exp(-thenC / decayC) - Math.exp(-nowC / decayC);
  const grownM = Math.max(0, nowC - thenC) / plan.chargePerVolumeCPerM3;
  return {
    leastV: -voltageV * Math.max(0, died(BARRIER_DECAY_C)) - mostGrowthVPerM(plan) * grownM,
    mostV: PEAK.share * voltageV * Math.max(0, died(PEAK.decayC)),
  };
}

interface ReadAt {
  /** V in constant current, ln I in constant voltage, and its change with the other. */
  readonly value: number;
  readonly slope: number;
  readonly sd: number;
  readonly chargePerAreaC: number;
}

/** The line through the samples near a level, once the supply is past it or stays there. */
function readAt(trace: WatchTrace, level: Level): ReadAt | undefined {
  const { mode } = trace.plan;
  const held = (sample: Pick<Sample, 'voltageV' | 'currentA'>): number =>
    mode === 'current' ? sample.currentA : sample.voltageV;
  const at = held(level);
  const near = trace.samples.filter(
    (sample) => Math.abs(held(sample) / at - 1) < NEAR[mode] && sample.currentA > 0,
  );
  if (near.length < FEWEST) return undefined;
  const isPast = held(newest(trace)) > (1 + NEAR[mode] / 2) * at;
  if (!isPast && near.length < STAYS) return undefined;
  const recent = isPast ? near : near.slice(-STAYS);
  const values = Float64Array.from(recent, ({ voltageV, currentA }) =>
    mode === 'current' ? voltageV : Math.log(currentA),
  );
  const ones = new Float64Array(recent.length).fill(1);
  const away = Float64Array.from(recent, (sample) => held(sample) - at);
  const { chargePerAreaC } = recent[recent.length >> 1]!;
  const line = isPast ? leastSquares([ones, away], values) : leastSquares([ones], values);
  if (!line) return undefined;
  return {
    value: line.coefficients[0]!,
    slope: Math.max(0, line.coefficients[1] ?? 0.3),
    sd: Math.max(line.deviations[0]!, mode === 'current' ? 0.004 * level.voltageV : 0.004),
    chargePerAreaC,
  };
}
