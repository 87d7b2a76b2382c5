/**
 * When to read the supply, minutes after power on: about a dozen times at round intervals, a quarter of an hour apart at most, since
 * a lost contact must be seen in time (common practice). First and last are power on and its planned end, to the second.
 */
export function readingTimes(rampMin: number, totalMin: number): number[] {
  const step = [1, 2, 5, 10].find((candidate) => totalMin / candidate <= 12) ?? 15;
  const toTheSecond = (minute: number): number => Math.round(minute * 60) / 60;
  const times = new Set<number>([0, toTheSecond(rampMin)]);
  for (let minute = step; minute < totalMin - step / 4; minute += step) times.add(minute);
  times.add(toTheSecond(totalMin));
  return [...times].sort((a, b) => a - b);
}

/** A reading counts for a time of the table this share of the way from the one before. */
const EARLY_SHARE = 0.5;

/**
 * Since when a typed reading has been due, seconds after power on; null where none is. Before the ramp is over none is: there is
 * enough to do. Past the planned end the last interval goes on.
 *
 * @param lastS the newest reading; null where there is none
 */
export function readingDueS(
  rampS: number,
  holdS: number,
  lastS: number | null,
  powerS: number,
): number | null {
  if (!(rampS >= 0 && holdS >= 0)) throw new RangeError(`readingDueS: rampS is ${rampS}, holdS is ${holdS}`);
  const times = readingTimes(rampS / 60, (rampS + holdS) / 60)
    .map((minute) => minute * 60)
    .filter((atS) => atS >= rampS && atS > 0);
  const last = times.length - 1;
  const everyS = Math.max(60, last > 0 ? times[last]! - times[last - 1]! : 300);
  while ((times.at(-1) ?? rampS) + everyS <= powerS) times.push((times.at(-1) ?? rampS) + everyS);
  const place = times.findLastIndex((atS) => atS <= powerS);
  if (place < 0) return null;
  const dueS = times[place]!;
  const beforeS = times[place - 1] ?? 0;
  const earlyS = dueS - EARLY_SHARE * (dueS - beforeS);
  return lastS !== null && lastS >= earlyS ? null : dueS;
}
