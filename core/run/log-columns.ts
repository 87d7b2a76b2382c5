import { findUnit } from '../units/find-unit.ts';
import type { LogTable } from './log-table.ts';
import { plainNumber } from './plain-number.ts';
import { headingForm, timeForm } from './time-form.ts';

export const LOG_ROLES = ['time', 'voltage', 'current', 'temperature'] as const;
export type LogRole = (typeof LOG_ROLES)[number];

/**
 * `clock` is h:min or h:min:s, of a day or since the start, with or without a date; `min:s` a stopwatch's min:s, and h:min:s where there are three
 * numbers; the others are units of a number.
 */
export const TIME_UNITS = ['ms', 's', 'min', 'h', 'min:s', 'clock'] as const;
export type TimeUnit = (typeof TIME_UNITS)[number];

export interface LogColumns {
  /** `unsure`: it may be min:s or h:min, and somebody must say. */
  readonly time: { readonly column: number; readonly unit: TimeUnit | 'unsure' };
  /** Symbols of the unit table. */
  readonly voltage: { readonly column: number; readonly unit: string };
  readonly current: { readonly column: number; readonly unit: string };
  readonly temperature: { readonly column: number; readonly unit: string } | null;
}

const KIND = { voltage: 'voltage', current: 'current', temperature: 'temperature' } as const;
const USUAL_UNIT = { voltage: 'V', current: 'A', temperature: '°C' } as const;

const NAMES: Readonly<Record<LogRole, RegExp>> = {
  time: /^(time|t|zeit|elapsed|timestamp|date\/?time|datetime|clock|uhrzeit|sec(onds)?)$/i,
  voltage: /^(volt(s|age)?|spannung|tension|v|u|vout|v_?meas|meas_?v)$/i,
  current: /^(amp(s|ere|eres)?|current|strom|courant|a|i|iout|i_?meas|meas_?i)$/i,
  temperature:
    /^(temp(erature|eratur)?|bath|deg[cf]|°[cf]|t_?bath|bath_?temp(erature)?|celsius|fahrenheit)$/i,
};
const NAME_STARTS: Readonly<Record<LogRole, RegExp>> = {
  time: /^(time|elapsed|zeit|timestamp|date)/i,
  voltage: /^(volt|spannung|tension)/i,
  current: /^(amp|current|strom|courant)/i,
  temperature: /^(temp|bath|deg[cf]\b|°[cf])/i,
};

/** What stands before the unit alone on a sheet: “Read A”, “Bath °F”. */
const BARE_UNIT = /^\s*(\S.*?)\s+(m?[VA]|°[CF]|K)(?:\s+hold:.*)?\s*$/;

/** “Voltage [mV]”, “I (mA)”, “U/V”, “t_s”, “Read A”: the name and what may be its unit. */
function splitName(heading: string): { name: string; unit: string } {
  const bare = BARE_UNIT.exec(heading);
  if (bare) return { name: bare[1]!.toLowerCase() === 'read' ? bare[2]! : bare[1]!, unit: bare[2]! };
  const match = /^\s*(.*?)\s*[[(]\s*([^\])]*)\s*[\])]\s*$/.exec(heading);
  if (match) return { name: match[1]!, unit: match[2]! };
  const slash = /^\s*(.+?)\s*(?:\/|_in_|\s+in\s+|_)\s*([^/_]+?)\s*$/.exec(heading);
  if (slash) return { name: slash[1]!, unit: slash[2]! };
  return { name: heading.trim(), unit: '' };
}

function timeUnit(text: string): TimeUnit | undefined {
  const plain = text.trim().toLowerCase();
  if (/^(ms|msec|milliseconds?)$/.test(plain)) return 'ms';
  if (/^(s|sec|secs|seconds?)$/.test(plain)) return 's';
  if (/^(min|mins|minutes?)$/.test(plain)) return 'min';
  if (/^(h|hr|hrs|hours?)$/.test(plain)) return 'h';
  return undefined;
}

/**
 * Which column is what, from the headings, or by the usual order (time, volts, amps, temperature) where there are none.
 * undefined where it can't be told; the user chooses then.
 *
 * @param wantedC charge for the wanted film, C; null where not known
 */
export function guessLogColumns(table: LogTable, wantedC: number | null = null): LogColumns | undefined {
  const found = new Map<LogRole, number>();
  if (table.header) {
    for (const names of [NAMES, NAME_STARTS]) {
      table.header.forEach((heading, column) => {
        if ([...found.values()].includes(column)) return;
        const { name } = splitName(heading);
        const role = LOG_ROLES.find((candidate) => {
          if (found.has(candidate)) return false;
          if (candidate === 'time' && headingForm(heading)) return true;
          return names[candidate].test(name) || (names === NAMES && names[candidate].test(heading.trim()));
        });
        if (role) found.set(role, column);
      });
    }
  } else if (table.columns >= 3) {
    LOG_ROLES.slice(0, Math.min(4, table.columns)).forEach((role, column) => found.set(role, column));
  }
  const time = found.get('time');
  const voltage = found.get('voltage');
  const current = found.get('current');
  if (time === undefined || voltage === undefined || current === undefined) return undefined;
  const temperature = found.get('temperature');
  const unitOf = (role: 'voltage' | 'current' | 'temperature', column: number): string => {
    const heading = table.header?.[column] ?? '';
    const { unit } = splitName(heading);
    const named = findUnit(KIND[role], unit) ?? findUnit(KIND[role], heading.replace(/^deg/i, ''));
    return named?.symbol ?? USUAL_UNIT[role];
  };
  const currentUnit = unitOf('current', current);
  return {
    time: { column: time, unit: timeUnitOf(table, time, current, currentUnit, wantedC) },
    voltage: { column: voltage, unit: unitOf('voltage', voltage) },
    current: { column: current, unit: currentUnit },
    temperature:
      temperature === undefined ? null : { column: temperature, unit: unitOf('temperature', temperature) },
  };
}

function timeUnitOf(
  { rows, header, decimalComma }: LogTable,
  time: number,
  current: number,
  currentUnit: string,
  wantedC: number | null,
): LogColumns['time']['unit'] {
  const heading = header?.[time] ?? '';
  const { unit } = splitName(heading);
  const cells = rows.map((row) => row.cells[time]!);
  if (!cells.some((cell) => cell.includes(':'))) return timeUnit(unit) ?? 's';
  const perUnitA = currentUnit === 'mA' ? 0.001 : 1;
  const currentA = rows.map(
    (row) => (plainNumber(row.cells[current]!.replace(/\s*m?A$/, ''), decimalComma) ?? NaN) * perUnitA,
  );
  return timeForm({ cells, heading, unit: timeUnit(unit) ?? '', currentA, wantedC });
}
