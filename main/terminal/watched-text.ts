import type { ImportedLog } from '../../core/run/import-log.ts';
import type { LogDoubt } from '../../core/run/log-doubts.ts';
import type { RunProgress } from '../../core/run/run-progress.ts';
import type { WatchedRun } from '../../core/run/watch-run.ts';
import { formatIn, formatNumber } from '../../core/units/format-quantity.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';

/** A log, and what came of watching it. */
export interface Watched extends WatchedRun {
  readonly log: ImportedLog;
  readonly doubts: readonly LogDoubt[];
}

const tidy = (value: number): number => Number(value.toPrecision(9));

/** @param thicknessWantedM null where none is named: no end is told then */
export function watchedJson(
  { log, doubts, progress, events }: Watched,
  thicknessWantedM: number | null,
): object {
  const { chargeC, thicknessM, endS, delivered, wantedSinceS } = progress;
  return {
    simulated: log.readings.origin === 'simulated',
    readings: log.readings.tS.length,
    chargeAh: tidy(chargeC.valueSi / 3600),
    chargeAhRange: [tidy(chargeC.lowSi! / 3600), tidy(chargeC.highSi! / 3600)],
    energyWh: tidy(delivered.energyJ / 3600),
    thicknessUm: tidy(thicknessM.valueSi * 1e6),
    thicknessUmRange: [tidy(thicknessM.lowSi! * 1e6), tidy(thicknessM.highSi! * 1e6)],
    ...(thicknessWantedM === null || !endS
      ? {}
      : { endS: tidy(endS.valueSi), endSRange: [tidy(endS.lowSi!), tidy(endS.highSi!)] }),
    ...(thicknessWantedM === null || wantedSinceS === null ? {} : { wantedSinceS: tidy(wantedSinceS) }),
    gaps: delivered.gaps,
    leftOut: log.problems,
    timeUnit: log.columns.time.unit,
    doubts,
    events: events.map(({ atS, sinceS, kind, level, areaLeft, message, remedy }) => ({
      atS,
      sinceS,
      kind,
      level,
      areaLeft: areaLeft.map(tidy),
      message,
      remedy,
    })),
  };
}

const clock = (seconds: number): string =>
  `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, '0')}`;

/** What the end is worked out with: the current, and whether anybody has read it. */
function atCurrent({ currentNow: now }: RunProgress): string {
  if (!now || now.riseAPerS > 0) return '';
  const amps = (valueA: number): string => formatIn('current', valueA, 'A', 3).text;
  return now.insteadOfA === null
    ? `, at ${amps(now.levelA)}`
    : `, once set to ${amps(now.levelA)}; ${amps(now.insteadOfA)} flows as read last`;
}

const TIMES_READ_AS: Readonly<Partial<Record<string, string>>> = {
  'min:s': 'Times      read as min:s',
  clock: 'Times      read as h:min, a clock’s or since the start',
};

/**
 * @param thicknessWantedM as `watchedJson` has it
 * @param system whose units come first in what the watch says
 */
export function watchedText(
  { log, doubts, progress, events }: Watched,
  thicknessWantedM: number | null,
  system: UnitSystem,
): string {
  const { chargeC, thicknessM, endS, delivered, wantedSinceS } = progress;
  const um = (valueM: number): string => formatNumber(valueM * 1e6);
  const mil = (valueM: number): string => formatIn('length', valueM, 'mil').text;
  const lines = [
    ...(log.readings.origin === 'simulated' ? ['SIMULATED readings, no real run'] : []),
    ...(TIMES_READ_AS[log.columns.time.unit] === undefined ? [] : [TIMES_READ_AS[log.columns.time.unit]!]),
    `Charge     ${formatIn('charge', chargeC.valueSi, 'A·h', 4).text}`,
    `Film       ${um(thicknessM.valueSi)} µm = ${mil(thicknessM.valueSi)}  (${um(thicknessM.lowSi!)} to ${um(thicknessM.highSi!)} µm)`,
    ...(thicknessWantedM !== null && wantedSinceS !== null
      ? [
          `Past       the wanted ${um(thicknessWantedM)} µm = ${mil(thicknessWantedM)} since ${clock(wantedSinceS)}, minutes of the run`,
        ]
      : thicknessWantedM !== null && endS
        ? [
            `Power off  at ${clock(endS.valueSi)}  (${clock(endS.lowSi!)} to ${clock(endS.highSi!)}), minutes of the run${atCurrent(progress)}`,
          ]
        : []),
    ...delivered.gaps.map(({ fromS, toS }) => `No readings from ${clock(fromS)} to ${clock(toS)}`),
    '',
    ...(events.length === 0 && doubts.length === 0 ? ['Nothing to report.'] : []),
    ...doubts.flatMap(({ code, message, remedy }) => [
      `         CHECK  ${code}`,
      `         ${message}`,
      `         ${remedy} Say it with --time.`,
    ]),
    ...events.flatMap(({ atS, level, kind, message, remedy }) => [
      `${clock(atS).padStart(7)}  ${level.toUpperCase().padEnd(5)}  ${kind}`,
      `         ${inReaderUnits(message, system)}`,
      `         ${inReaderUnits(remedy, system)}`,
    ]),
    '',
  ];
  return lines.join('\n');
}
