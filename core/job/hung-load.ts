import type { Load } from '../electrical/pack-loads.ts';
import type { Job } from './job.ts';
import { holds, hungPieces } from './load-hanging.ts';
import { loadsWords } from './load-currents.ts';

/** What of a job hangs in its tank, as it was placed. */
export interface HungLoad {
  /** What the distances are of: "loads 1 and 2", "4 × knob"; empty where it is all there is. */
  readonly of: string;
  /** What has no distances yet: "load 3", "1 × plate"; empty where all hangs. */
  readonly notHung: string;
}

/**
 * Which of the planned loads hangs in the tank. Distances are only of what hangs there, so the others are named.
 * @param loads as planned, pieces by part in the job's order
 */
export function hungLoad(
  job: Pick<Job, 'parts' | 'placements'>,
  loads: readonly Pick<Load, 'pieces'>[],
): HungLoad {
  const hung = hungPieces(job, job.placements);
  const isHung = loads.map(({ pieces }) => holds(job, job.placements, pieces));
  const numbers = (wanted: boolean): number[] =>
    isHung.flatMap((is, index) => (is === wanted ? [index + 1] : []));
  const say = (wanted: boolean): string => (numbers(wanted).length > 0 ? loadsWords(numbers(wanted)) : '');
  if (isHung.includes(true)) {
    return loads.length > 1 ? { of: say(true), notHung: say(false) } : { of: '', notHung: '' };
  }
  const pieces = (counts: readonly number[]): string =>
    job.parts
      .flatMap(({ name }, part) => (counts[part]! > 0 ? [`${counts[part]} × ${name}`] : []))
      .join(', ');
  const only = loads.length === 1 ? loads[0]!.pieces.map((count, part) => count - hung[part]!) : [];
  return {
    of: `${pieces(hung)}${loads.length > 1 ? ', which is none of the loads' : ''}`,
    notHung: loads.length > 1 ? say(false) : pieces(only.map((count) => Math.max(0, count))),
  };
}
