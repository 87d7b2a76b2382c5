import { tankLine, hangerText } from '../../core/job/hanging-sheet.ts';
import { hungPart, sizeAsHung, sizesAsHung } from '../../core/job/hung-wires.ts';
import { emptyJob } from '../../core/job/default-job.ts';
import type { Job } from '../../core/job/job.ts';
import { pinPlaces } from '../../core/job/pin-words.ts';
import type { Alloy } from '../../core/reference/alloys.ts';
import { alloyByName } from '../../core/reference/alloys.ts';
import type { Vec3 } from '../../core/racking/vec3.ts';
import type { GatheredPart } from './gather-parts.ts';
import type { HangOptions } from './hang-options.ts';
import { pinWarnings } from './pin-warnings.ts';

/** A pin of a saved job, in words. */
export interface SavedPin {
  readonly number: number;
  readonly place: string;
  readonly hanger: string;
  /** What is wrong with it; empty where nothing is. */
  readonly notes: readonly string[];
}

/** How a part hangs by the command line, else by the job it is from, else by the usual values. */
export interface HangSettings {
  readonly up: Vec3;
  readonly alloy: Alloy;
  readonly currentA?: number;
  readonly bath: Job['bath'];
}

const USUAL_UP: Vec3 = [0, 0, 1];
const USUAL_ALLOY = '6061';

export function hangSettings(part: GatheredPart, options: HangOptions, job: Job | undefined): HangSettings {
  const saved = part.fromJob && job ? part.part : undefined;
  const alloy = options.alloy ?? alloyByName(saved?.alloy ?? USUAL_ALLOY) ?? alloyByName(USUAL_ALLOY)!;
  const currentA =
    options.currentA ?? (saved && job ? part.measure.coatedM2 * job.process.currentDensityAPerM2 : undefined);
  return {
    up: options.up ?? saved?.attitude.up ?? USUAL_UP,
    alloy,
    bath: (job ?? emptyJob('')).bath,
    ...(currentA === undefined ? {} : { currentA }),
  };
}

/** The pins that a saved job sets on a part, with their wires as its tank makes them. */
export function savedPins(job: Job, one: GatheredPart): SavedPin[] {
  const sizes = sizesAsHung([one.part], () => one.geometry);
  const hung = hungPart(job, one.part, sizes[one.part.id]);
  const places = pinPlaces(hung, one.geometry, 'metric');
  const warnings = pinWarnings(job, one);
  return hung.contacts.map(({ id, hanger }, index) => ({
    number: index + 1,
    place: places.get(id) ?? 'off the part: remove it and set it again',
    hanger: hangerText(hanger, 'metric'),
    notes: warnings
      .filter(({ contactId }) => contactId === id)
      .map(({ message, remedy }) => `${message} ${remedy}`),
  }));
}

/** How deep a saved part hangs in the bath, m from its lowest point up; null where all of it does. */
export const savedDepthM = ({ part, geometry }: GatheredPart): number | null =>
  sizeAsHung(part, geometry).depthM ?? null;

/** The tank of a saved job and what to keep clear in it; null without one. */
export function savedTank(job: Job): string | null {
  return tankLine(job, null, [], 'metric');
}
