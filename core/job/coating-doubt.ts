import { buildUp } from '../finish/build-up.ts';
import { HARD_COAT_FROM } from '../bath/bath-messages.ts';
import { BATH_TEMPERATURE } from '../reference/bath-limits.ts';
import type { CoatingType } from '../reference/growth-ratio.ts';
import type { Job } from './job.ts';

export interface CoatingDoubt {
  /** What the bath makes, where the fits count the other. */
  readonly coating: CoatingType;
  /** Build-up of each surface, m: counted now, and of the type that the bath makes. */
  readonly nowM: number;
  readonly thenM: number;
}

/** Above this a thick film softens while it grows (bath-messages.ts); below it an ordinary bath makes a hard film. */
const COLD_K = HARD_COAT_FROM.softensAboveK;

/**
 * Where the type of film that fits count with is not what a bath this cold or warm makes; null where it is, where the bath is
 * between the two, or where the shop's own build-up counts.
 * @param startK of the bath as the run begins
 */
export function coatingDoubt(job: Job, startK: number): CoatingDoubt | null {
  const { coating, growthRatio } = job.finish;
  if (growthRatio !== null) return null;
  const made: CoatingType | null =
    startK <= COLD_K ? 'hard' : startK >= BATH_TEMPERATURE.ordinary.lowK ? 'ordinary' : null;
  if (made === null || made === coating) return null;
  const outM = (type: CoatingType): number => buildUp(type, job.process.thicknessM).usualM;
  return { coating: made, nowM: outM(coating), thenM: outM(made) };
}
