import { findUnit } from '../units/find-unit.ts';
import type { LogTable } from './log-table.ts';

export const LOG_ROLES = ['time', 'voltage', 'current', 'temperature'] as const;
export type LogRole = (typeof LOG_ROLES)[number];

/** `clock` is hh:mm:ss, with or without a date; the others are units of a number. */
export type TimeUnit = 'ms' | 's' | 'min' | 'h' | 'clock';

export interface LogColumns {
  readonly time: { readonly column: number; readonly unit: TimeUnit };
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

/** “Voltage [mV]”, “I (mA)”, “U/V”, “t_s”: the name and what may be its unit. */
function splitName(heading: string): { name: string; unit: string } {
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
  if (/^h+:m+(:s+)?$/.test(plain)) return 'clock';
  return undefined;
}

/**
 * Which column is what, from the headings, or by the usual order (time, volts, amps, temperature) where there are none.
 * undefined where it can't be told; the user chooses then.
 */
export function guessLogColumns(table: LogTable): LogColumns | undefined {
  const found = new Map<LogRole, number>();
  if (table.header) {
    for (const names of [NAMES, NAME_STARTS]) {
      table.header.forEach((heading, column) => {
        if ([...found.values()].includes(column)) return;
        const { name } = splitName(heading);
        const role = LOG_ROLES.find((candidate) => {
          if (found.has(candidate)) return false;
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
  const looksLikeClock = table.rows[0]?.cells[time]?.includes(':') ?? false;
  return {
    time: {
      column: time,
      unit: looksLikeClock ? 'clock' : (timeUnit(splitName(table.header?.[time] ?? '').unit) ?? 's'),
    },
    voltage: { column: voltage, unit: unitOf('voltage', voltage) },
    current: { column: current, unit: unitOf('current', current) },
    temperature:
      temperature === undefined ? null : { column: temperature, unit: unitOf('temperature', temperature) },
  };
}
