import type { Load } from '../electrical/pack-loads.ts';
import type { HangingSize } from '../racking/hanging-size.ts';
import type { Placement } from '../racking/tank.ts';
import { success, type Result } from '../result.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import { setPlacements } from './edit-hanging.ts';
import type { Job } from './job.ts';
import { hangingItems, hangPieces, roomsFor, spreadOverBars, type PackingJob } from './tank-plan.ts';

/** How each load hangs: one at a time is in the tank, the others are kept as they were left. */

type Hung = readonly Pick<Placement, 'partId'>[];

/** How many pieces of each part hang, in the job's order. */
export const hungPieces = ({ parts }: Pick<Job, 'parts'>, hung: Hung): number[] =>
  parts.map(({ id }) => hung.filter(({ partId }) => partId === id).length);

/** Whether what hangs is these pieces and no others. @param pieces by part, in the job's order */
export const holds = (job: Pick<Job, 'parts'>, hung: Hung, pieces: readonly number[]): boolean =>
  hung.every(({ partId }) => job.parts.some(({ id }) => id === partId)) &&
  hungPieces(job, hung).every((count, part) => count === (pieces[part] ?? 0));

/** How these pieces hang, or hung when they were last in the tank; null where they never did. Loads alike hang alike. */
export function placesOf(
  job: Pick<Job, 'parts' | 'placements' | 'otherLoads'>,
  pieces: readonly number[],
): Job['placements'] | null {
  return (
    [job.placements, ...job.otherLoads].find((hung) => hung.length > 0 && holds(job, hung, pieces)) ?? null
  );
}

/**
 * Hangs one load in place of what hangs now. What hangs now is kept where it is a load of its own, and found again by placesOf.
 * @param loads as planned: what is none of them is not kept; null while nobody knows them, then all stays kept
 */
export function hangInstead(
  job: Job,
  placements: readonly Placement[],
  loads: readonly Pick<Load, 'pieces'>[] | null,
): Job {
  if (!loads) return setPlacements(job, placements);
  const now = hungPieces(job, placements);
  const otherLoads = loads.flatMap(({ pieces }, load) => {
    const isFirst = loads.findIndex((other) => same(other.pieces, pieces)) === load;
    const kept = isFirst && !same(pieces, now) ? placesOf(job, pieces) : null;
    return kept ? [kept] : [];
  });
  return { ...setPlacements(job, placements), otherLoads };
}

const same = (a: readonly number[], b: readonly number[]): boolean =>
  Array.from({ length: Math.max(a.length, b.length) }, (_, i) => (a[i] ?? 0) === (b[i] ?? 0)).every(Boolean);

/** So many of each part, as evenly over the bars as they fit. */
export interface SpreadLoad {
  /** Where they do not fit, the failure says how many do. */
  readonly made: Result<Placement[]>;
  /** All of it in a row under the first bar, fit or not, for the exact distances to judge; null without a bar. */
  readonly inRow: () => Placement[] | null;
}

/**
 * Hangs pieces that no plan has packed. Failures: those of hangingItems and spreadOverBars.
 * @param counts by part, in the job's order
 * @param sizes per part id, at rest
 */
export function spreadLoad(
  job: PackingJob,
  counts: readonly number[],
  sizes: Readonly<Record<string, HangingSize>>,
  system: UnitSystem = 'metric',
): Result<SpreadLoad> {
  const hung = { ...job, parts: job.parts.map((part, i) => ({ ...part, quantity: counts[i] ?? 0 })) };
  const items = hangingItems(
    hung,
    job.parts.map(({ name }) => ({ name, areaM2: 0, quantity: 0 })),
    sizes,
  );
  if (!items.ok) return items;
  const choices = roomsFor(hung, items.value).map((rooms) => ({
    rooms,
    pieces: spreadOverBars(rooms, items.value, counts, job.tank.rules.partToPartM, system),
  }));
  const { rooms, pieces } = choices.find((choice) => choice.pieces.ok) ?? choices[0]!;
  const row = rooms.map((_, bar) => counts.map((wanted) => (bar === 0 ? wanted : 0)));
  return success({
    made: pieces.ok ? success(hangPieces(job, rooms, sizes, pieces.value)) : pieces,
    inRow: () => (rooms.length > 0 ? hangPieces(job, rooms, sizes, row) : null),
  });
}
