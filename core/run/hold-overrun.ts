import { SMALLEST_LIVE, WHOLE_AREA, type LiveSpan } from './live-spans.ts';
import type { ProgressPlan, RunProgress } from './run-progress.ts';

/** A hold that went on past its end. SI. */
export interface HoldOverrun {
  /** Past the moment the wanted film was there, s. */
  readonly overS: number;
  /** Film by the end, of the part that kept contact, m. */
  readonly filmM: number;
  /** Before the end nothing was read for so long: the film is what the current read last made of it, had it flowed until then. */
  readonly unreadS: number;
}

/** Less than this share too much is within what the end is reckoned to. */
const WORTH_SAYING = 0.02;

/**
 * By how much a hold ran over, and the film it came to: what the readings give, and beyond the last d = d₀ + I · t / (k · A). Null where it did not,
 * or by next to nothing.
 *
 * @param lastS the last reading, and `offS` the end of the power, s of the run
 */
export function holdOverrun(
  { wantedSinceS, endS, thicknessM, currentNow }: RunProgress,
  plan: ProgressPlan,
  live: readonly LiveSpan[],
  { lastS, offS }: { readonly lastS: number; readonly offS: number },
): HoldOverrun | null {
  const wantedS = wantedSinceS ?? endS?.valueSi ?? null;
  if (wantedS === null || !(offS > wantedS)) return null;
  const { likely } = live.at(-1) ?? WHOLE_AREA;
  const liveM2 = plan.areaM2 * Math.max(likely, SMALLEST_LIVE);
  const perS = (currentNow?.levelA ?? 0) / (plan.chargePerVolumeCPerM3 * liveM2);
  const beyondS = Math.max(0, offS - Math.max(lastS, wantedS));
  const readM = wantedSinceS === null ? plan.thicknessM : thicknessM.valueSi;
  const filmM = readM + (likely < SMALLEST_LIVE ? 0 : perS * beyondS);
  return filmM < (1 + WORTH_SAYING) * plan.thicknessM
    ? null
    : { overS: offS - wantedS, filmM, unreadS: Math.max(0, offS - lastS) };
}
