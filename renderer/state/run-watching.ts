import { joinedOrigin } from '../../core/run/join-readings.ts';
import { withoutLoneZero } from '../../core/run/no-current.ts';
import { saidPauses } from '../../core/run/power-again.ts';
import { powerSpan } from '../../core/run/power-span.ts';
import {
  readingAt,
  readingsFrom,
  type Reading,
  type ReadingOrigin,
  type Readings,
} from '../../core/run/readings.ts';
import type { RunProgress } from '../../core/run/run-progress.ts';
import { feedRunWatch, newRunWatch, watchedRun, type RunWatch } from '../../core/run/watch-run.ts';
import type { RunRecord, SaidEvent } from '../../core/shop/run-record.ts';
import { isRead } from './run-power.ts';
import { NO_READINGS } from './run-store.ts';

/** A run's readings with what the watch makes of them. Each change gives the record as it stands then. */
export interface RunWatching {
  list(): readonly Reading[];
  readings(): Readings;
  progress(): RunProgress | null;
  /** The newest reading's time, seconds after power on; null where there is none. */
  lastS(): number | null;
  /** As the book has them; the record keeps what was said. */
  open(readings: Readings, record: RunRecord): void;
  /** As the book has them by now: what has come since is watched on, anything else is opened anew. */
  goOn(readings: Readings, record: RunRecord): void;
  clear(): void;
  append(more: readonly Reading[], origin: ReadingOrigin, record: RunRecord): RunRecord;
  removeLast(record: RunRecord): RunRecord;
  /** Another reading in place of the one at this time, seconds after power on, or none. */
  putAt(tS: number, right: Omit<Reading, 'tS'> | null, record: RunRecord): RunRecord;
  /** All others. */
  replace(readings: Readings, record: RunRecord): RunRecord;
}

export function createRunWatching(): RunWatching {
  let list: Reading[] = [];
  let readings: Readings = NO_READINGS;
  let watch: RunWatch | null = null;
  let watched: ReturnType<typeof watchedRun> | null = null;

  /** `anew`: from the first reading on, as after one that was taken back. */
  const look = (record: RunRecord, anew: boolean): RunRecord => {
    if (anew || !watch) watch = newRunWatch(record.plan, record.origin, readings);
    const { onMs, offMs } = powerSpan(record.clock);
    // A logger's zero need not be the run's.
    const hasEnd = isRead(record) && onMs !== null && offMs !== null;
    const untilS = hasEnd ? (offMs - onMs) / 1000 : Infinity;
    watch = feedRunWatch(watch, readings, untilS, saidPauses(record.clock, onMs));
    const sure = withoutLoneZero(readings, record.plan);
    watched = sure.tS.length > 0 ? watchedRun(sure, record.plan, watch.watch.events()) : null;
    const events =
      watched?.events.map((event): SaidEvent => ({ ...event, areaLeft: [...event.areaLeft] })) ?? [];
    if (JSON.stringify(events) === JSON.stringify(record.events)) return record;
    // What is said anew after a reading was taken back has not been silenced, nor dealt with.
    const [silenced, dealtWith] = [record.silenced, record.dealtWith].map((count) =>
      firstNew(events, record.events.slice(0, count)),
    );
    return { ...record, events, silenced: silenced!, dealtWith: dealtWith! };
  };

  const take = (stored: Readings): void => {
    readings = stored;
    list = Array.from(readings.tS, (_, i) => readingAt(readings, i));
  };

  const open = (stored: Readings, record: RunRecord): void => {
    take(stored);
    watch = null;
    watched = null;
    if (record.origin !== null) look(record, true);
  };

  return {
    list: () => list,
    readings: () => readings,
    progress: () => watched?.progress ?? null,
    lastS: () => list.at(-1)?.tS ?? null,

    open,

    goOn(stored, record) {
      if (!watch || !beginsWith(stored, readings)) return open(stored, record);
      if (stored.tS.length === readings.tS.length) return;
      take(stored);
      look(record, false);
    },

    clear() {
      list = [];
      readings = NO_READINGS;
      watch = null;
      watched = null;
    },

    append(more, origin, record) {
      list.push(...more);
      const now = record.origin === null ? origin : joinedOrigin(record.origin, origin);
      readings = readingsFrom(list, now);
      return look(now === record.origin ? record : { ...record, origin: now }, now !== record.origin);
    },

    removeLast(record) {
      list.pop();
      readings = readingsFrom(list, record.origin ?? 'typed');
      return look(record, true);
    },

    putAt(tS, right, record) {
      list = list.flatMap((reading) => (reading.tS !== tS ? reading : right ? { ...right, tS } : []));
      readings = readingsFrom(list, record.origin ?? 'typed');
      return look(record, true);
    },

    replace(joined, record) {
      take(joined);
      return look({ ...record, origin: readings.origin }, true);
    },
  };
}

/** How many of the first events are among the old ones. */
function firstNew(events: readonly SaidEvent[], old: readonly SaidEvent[]): number {
  const place = events.findIndex(({ kind, atS }) => !old.some((e) => e.kind === kind && e.atS === atS));
  return place < 0 ? events.length : place;
}

/** Whether these readings are those, with more behind them perhaps. */
function beginsWith(all: Readings, first: Readings): boolean {
  const { length } = first.tS;
  if (all.tS.length < length || all.origin !== first.origin) return false;
  const kelvin = ({ bathTemperatureK }: Readings, i: number): number => bathTemperatureK?.[i] ?? NaN;
  for (let i = 0; i < length; i++) {
    const isSame =
      all.tS[i] === first.tS[i] &&
      all.voltageV[i] === first.voltageV[i] &&
      all.currentA[i] === first.currentA[i] &&
      Object.is(kelvin(all, i), kelvin(first, i));
    if (!isSame) return false;
  }
  return true;
}
