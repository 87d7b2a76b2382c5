import { gapFinder } from '../../core/run/reading-gaps.ts';
import type { Readings } from '../../core/run/readings.ts';
import { toUnit, unitBySymbol } from '../../core/units/find-unit.ts';

/** How many readings Page Up and Page Down go. */
const PAGE = 10;

/**
 * The reading that a key leads to from another; undefined where the key means nothing here.
 * @param at −1 while none is chosen: an arrow then leads to the first of those shown, or to the last
 * @param shown the first and the last reading that the chart shows
 */
export function walkTo(
  key: string,
  at: number,
  count: number,
  shown: readonly [number, number],
): number | undefined {
  if (count === 0) return undefined;
  const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: PAGE, PageDown: -PAGE }[key];
  if (by !== undefined) {
    if (at < 0) return by > 0 ? shown[0] : shown[1];
    return Math.min(count - 1, Math.max(0, at + by));
  }
  return key === 'Home' ? 0 : key === 'End' ? count - 1 : undefined;
}

/** The reading nearest to a moment, seconds; −1 where there is none. */
export function nearestReading(tS: ArrayLike<number>, atS: number): number {
  let low = 0;
  let high = tS.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (tS[middle]! < atS) low = middle + 1;
    else high = middle;
  }
  if (low === tS.length) return tS.length - 1;
  return low > 0 && atS - tS[low - 1]! <= tS[low]! - atS ? low - 1 : low;
}

/** A moment of the run as it is spoken: "1 h 12 min 30 s", "45 s before power on". */
export function spokenMoment(tS: number): string {
  const whole = Math.round(Math.abs(tS));
  const parts = [
    [Math.floor(whole / 3600), 'h'],
    [Math.floor((whole % 3600) / 60), 'min'],
    [whole % 60, 's'],
  ] as const;
  const said = parts.filter(([value]) => value > 0).map(([value, unit]) => `${value} ${unit}`);
  return `${said.length > 0 ? said.join(' ') : '0 s'}${tS < -0.5 ? ' before power on' : ''}`;
}

/** One trace's values at a reading, in words: "14.62 V, 5.60 A, bath 20.4 °C". */
export function spokenValues(
  { voltageV, currentA, bathTemperatureK }: Readings,
  at: number,
  temperatureIn: '°C' | '°F' | null,
): string {
  const kelvin = temperatureIn ? (bathTemperatureK?.[at] ?? NaN) : NaN;
  const bath = Number.isNaN(kelvin)
    ? []
    : [`bath ${toUnit(kelvin, unitBySymbol('temperature', temperatureIn!)).toFixed(1)} ${temperatureIn!}`];
  const said = (value: number, unit: string): string =>
    Number.isNaN(value) ? `no ${unit === 'V' ? 'volts' : 'amps'}` : `${value.toFixed(2)} ${unit}`;
  return [said(voltageV[at]!, 'V'), said(currentA[at]!, 'A'), ...bath].join(', ');
}

/**
 * A reading in words, with what the other trace has nearest to that moment: "12 min 30 s: 14.62 V, 5.60 A; Plate 9: 14.20 V, 5.20 A".
 * After a gap it is said how long nothing was read.
 */
export function spokenReading(
  traces: readonly { readonly label: string; readonly readings: Readings }[],
  at: number,
  temperatureIn: '°C' | '°F' | null,
): string {
  const [first, ...others] = traces;
  if (!first || !(at >= 0 && at < first.readings.tS.length))
    throw new RangeError(`spokenReading: at is ${at}`);
  const { tS } = first.readings;
  const gap =
    at > 0 && gapFinder(first.readings)(at)
      ? `, after ${spokenMoment(tS[at]! - tS[at - 1]!)} without a reading`
      : '';
  const beside = others.flatMap(({ label, readings }) => {
    const nearest = nearestReading(readings.tS, tS[at]!);
    const isOver = nearest < 0 || tS[at]! > readings.tS.at(-1)! + 60;
    return [`; ${label}: ${isOver ? 'over by then' : spokenValues(readings, nearest, temperatureIn)}`];
  });
  return `${spokenMoment(tS[at]!)}${gap}: ${spokenValues(first.readings, at, temperatureIn)}${beside.join('')}`;
}
