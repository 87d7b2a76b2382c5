import { readingAt, readingsFrom, type Reading, type ReadingOrigin, type Readings } from './readings.ts';

/** Trust goes from the left; whatever has a simulated part counts as simulated. */
const RANK: readonly ReadingOrigin[] = ['simulated', 'supply', 'log', 'typed'];

/** Origin of readings put together from two sources. */
export function joinedOrigin(one: ReadingOrigin, other: ReadingOrigin): ReadingOrigin {
  return RANK[Math.min(RANK.indexOf(one), RANK.indexOf(other))]!;
}

/**
 * Puts a log into a run: within the log's span it stands for what was there before, outside of it nothing changes.
 * @param startS where the log's zero lies on the run's time
 */
export function joinLog(run: Readings, log: Readings, startS: number): Readings {
  if (!Number.isFinite(startS)) throw new RangeError(`joinLog: startS is ${startS}`);
  if (log.tS.length === 0) return run;
  const fromS = log.tS[0]! + startS;
  const toS = log.tS.at(-1)! + startS;
  const list: Reading[] = [];
  const copy = (readings: Readings, keep: (tS: number) => boolean, shiftS: number): void => {
    for (let i = 0; i < readings.tS.length; i++) {
      const reading = readingAt(readings, i);
      const tS = Number((reading.tS + shiftS).toFixed(6));
      if (keep(tS)) list.push({ ...reading, tS });
    }
  };
  copy(run, (tS) => tS < fromS, 0);
  copy(log, () => true, startS);
  copy(run, (tS) => tS > toS, 0);
  return readingsFrom(list, run.tS.length === 0 ? log.origin : joinedOrigin(run.origin, log.origin));
}
