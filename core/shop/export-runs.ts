import { POINT_CSV, type CsvStyle } from '../units/csv-style.ts';
import type { RunSummary } from './run-summary.ts';

const COLUMNS: readonly (readonly [string, (run: RunSummary) => string | number | null])[] = [
  ['id', (run) => run.id],
  ['name', (run) => run.name],
  // As spreadsheets read a date and time.
  ['started_utc', (run) => new Date(run.startedAtMs).toISOString().slice(0, 19).replace('T', ' ')],
  ['outcome', (run) => run.outcome],
  ['simulated', (run) => (run.simulated ? 'simulated' : '')],
  ['pieces', (run) => run.pieces],
  ['area_cm2', (run) => run.areaM2 * 1e4],
  ['density_A_per_dm2', (run) => run.densityAPerM2 / 100],
  ['wanted_um', (run) => run.wantedM * 1e6],
  ['film_by_charge_um', (run) => scaled(run.filmM, 1e6)],
  ['film_measured_um', (run) => scaled(run.measuredM, 1e6)],
  ['charge_Ah', (run) => scaled(run.chargeC, 1 / 3600)],
  ['energy_Wh', (run) => scaled(run.energyJ, 1 / 3600)],
  ['duration_min', (run) => scaled(run.durationS, 1 / 60)],
  ['gap_s', (run) => run.gapS],
  ['steady_V', (run) => run.steadyVoltageV],
  ['steady_A', (run) => run.steadyCurrentA],
  ['bath_degC', (run) => (run.steadyTemperatureK === null ? null : run.steadyTemperatureK - 273.15)],
  ['bath_rise_K', (run) => run.riseK],
  ['alarms', (run) => run.alarms],
  ['dye', (run) => run.dye],
  ['colour', (run) => run.colour],
];

function scaled(value: number | null, factor: number): number | null {
  return value === null ? null : value * factor;
}

/** Without it spreadsheets take UTF-8 for the system's own letters. */
const BYTE_ORDER_MARK = '\uFEFF';

/**
 * Runs as CSV (RFC 4180) in UTF-8 with its mark, one line each.
 *
 * @param notes by run id
 * @param style of the reader's spreadsheet; a point as decimal mark where absent
 */
export function exportRuns(
  runs: readonly RunSummary[],
  notes: ReadonlyMap<string, string> = new Map(),
  style: CsvStyle = POINT_CSV,
): string {
  const line = (values: readonly (string | number | null)[]): string =>
    values.map((value) => cell(value, style)).join(style.delimiter);
  const lines = [
    line([...COLUMNS.map(([heading]) => heading), 'note']),
    ...runs.map((run) => line([...COLUMNS.map(([, value]) => value(run)), notes.get(run.id) ?? ''])),
  ];
  return `${BYTE_ORDER_MARK}${lines.join('\r\n')}\r\n`;
}

function cell(value: string | number | null, { delimiter, decimal }: CsvStyle): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(Number(value.toPrecision(9))).replace('.', decimal);
  // A spreadsheet would take a text that begins so for a formula.
  const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return text.includes(delimiter) || /["\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
