import type { AreaLeft } from './area-estimate.ts';
import { createContactWatch, type ContactWatch } from './contact-watch.ts';
import { median } from './held-level.ts';
import { plannedCurrentA } from './planned-current.ts';
import type { Reading } from './readings.ts';
import { createTypedWatch } from './typed-watch.ts';
import type { WatchEvent, WatchKind, WatchPlan } from './watch-event.ts';
import { maybeWhole } from './whole-again.ts';

/**
 * Watches a log whose readings come now close, now minutes apart: often in the ramp, seldom in the hold, or with pauses. Each reading goes by
 * its own distance to the one before. Close ones have statistics (contact-watch.ts); what comes after a longer pause is held against what
 * stood before it, as each of a row of such readings is against the last (typed-watch.ts), until they come close again.
 */

/** Above this from one reading to the next there are too few for statistics. */
export const SELDOM_S = 90;
/** Close readings of so long tell together what stood before a pause. */
const BEFORE_S = 30;
/** What the supply holds was set anew, or ramps again, where it differs by more than this share: nothing is compared then. */
const SET_ANEW = 0.1;
/** Of the plan's; less is no current. */
const FLOWS = 0.05;
/** So long after a pause the watch of the close readings finds what the other has said. */
const FOUND_AGAIN_S = 120;

/** Power and contact are not what they were, as one reading shows: nothing is to be held against it. */
const ALL_NEW: readonly WatchKind[] = ['contact-total', 'contact-back', 'short', 'supply-off'];

/** Something said: by which watch, the how manieth there, and what was left by the others. */
interface Said {
  readonly by: ContactWatch;
  readonly index: number;
  readonly share: AreaLeft;
}

/** Readings that come seldom, one after the other. */
interface Row {
  readonly watch: ContactWatch;
  /** What the pause before it was called, until a second one shows that readings come so. */
  gap: Said | undefined;
  /** Of the area, by the watch of the close readings and by earlier rows. */
  readonly leftBefore: AreaLeft;
}

/** Throws RangeError as both watches do. */
export function createPacedWatch(plan: WatchPlan): ContactWatch {
  const close = createContactWatch(plan);
  const plannedA = plannedCurrentA(plan);
  const held = plan.mode === 'current' ? 'currentA' : 'voltageV';
  let said: Said[] = [];
  /** Close readings before the next pause. */
  let recent: Reading[] = [];
  let row: Row | undefined;
  /** What the rows that are over leave of the area. */
  let leftByRows: AreaLeft = { value: 1, low: 1, high: 1 };
  /** A loss the last row has said, and what the rows before it left. */
  let found: { readonly untilS: number; readonly before: AreaLeft } | undefined;

  const saidIn = (watch: ContactWatch, kind: WatchKind): boolean =>
    said.some(({ by, index }) => by === watch && by.events()[index]!.kind === kind);

  const keep = (by: ContactWatch, fresh: readonly WatchEvent[], share: AreaLeft): Said[] => {
    const first = by.events().length - fresh.length;
    const kept = fresh.map((_, i) => ({ by, index: first + i, share })).filter((each) => isNews(each));
    said.push(...kept);
    return kept;
  };

  const isNews = ({ by, index }: Said): boolean => {
    const { kind, sinceS } = by.events()[index]!;
    if (kind === 'loss-unseen') return !said.some((other) => eventOf(other).kind === kind);
    if (by !== close || !found || sinceS > found.untilS) return true;
    if (kind !== 'contact-lost') return true;
    // It has the loss in its own share from now on.
    leftByRows = found.before;
    found = undefined;
    return false;
  };

  const addClose = (reading: Reading): Said[] => {
    const fresh = close.add(reading);
    // A new clamp may bring back what was lost.
    if (fresh.some(({ kind }) => kind === 'supply-off') && leftByRows.value < 1)
      leftByRows = maybeWhole(leftByRows);
    return keep(close, fresh, leftByRows);
  };

  const addToRow = (on: Row, reading: Reading): Said[] =>
    keep(on.watch, on.watch.add(reading), on.leftBefore);

  /** Somebody must still tell: all contact lost, a short, or a number in doubt. */
  const isOpen = ({ watch }: Row): boolean => {
    const last = watch.events().at(-1);
    const isAsked =
      last?.kind === 'reading-doubtful' || (last?.kind === 'short' && last.untilS === undefined);
    return isAsked || watch.areaLeft().value === 0;
  };

  const endRow = (over: Row, atS: number): void => {
    if (saidIn(over.watch, 'contact-lost')) found = { untilS: atS + FOUND_AGAIN_S, before: leftByRows };
    leftByRows = product(leftByRows, over.watch.areaLeft());
    row = undefined;
    recent = [];
  };

  const beginRow = (reading: Reading, fresh: readonly Said[]): Said[] => {
    const before = stood(recent);
    recent = [reading];
    if (reading.currentA < FLOWS * plannedA || fresh.some((each) => ALL_NEW.includes(eventOf(each).kind)))
      return [];
    const isCompared = before && Math.abs(reading[held] / before[held] - 1) <= SET_ANEW;
    row = {
      watch: createTypedWatch(plan),
      gap: fresh.find((each) => eventOf(each).kind === 'gap'),
      leftBefore: product(close.areaLeft(), leftByRows),
    };
    if (isCompared) row.watch.add(before);
    return addToRow(row, reading);
  };

  const take = (reading: Reading): Said[] => {
    const lastS = recent.at(-1)?.tS;
    const isSeldom = lastS !== undefined && reading.tS - lastS > SELDOM_S;
    if (row && (isSeldom || isOpen(row))) {
      // Readings come so: no cable has come off. After a loss the pause says that it may have been clamped anew.
      const { gap } = row;
      if (isSeldom && gap && eventOf(gap).areaLeft[0] === 1) said = said.filter((each) => each !== gap);
      row.gap = undefined;
      recent = [reading];
      return addToRow(row, reading);
    }
    if (row) {
      const over = row;
      endRow(over, reading.tS);
      recent = [reading];
      const fresh = addClose(reading);
      // What was read in the row is no pause.
      said = said.filter((each) => !fresh.includes(each) || eventOf(each).kind !== 'gap');
      return fresh.filter((each) => said.includes(each));
    }
    const fresh = addClose(reading);
    if (isSeldom) return [...fresh, ...beginRow(reading, fresh)];
    recent = [...recent.filter(({ tS }) => tS > reading.tS - BEFORE_S), reading];
    return fresh;
  };

  return {
    add: (reading) => take(reading).map(eventOf),
    events: () => said.map(eventOf),
    areaLeft: () =>
      row ? product(row.leftBefore, row.watch.areaLeft()) : product(close.areaLeft(), leftByRows),
  };
}

function eventOf({ by, index, share }: Said): WatchEvent {
  const event = by.events()[index]!;
  const [low, high] = event.areaLeft;
  return {
    ...event,
    areaLeft: [low * share.low, high * share.high],
    likelyAreaLeft: event.likelyAreaLeft * share.value,
  };
}

const product = (a: AreaLeft, b: AreaLeft): AreaLeft => ({
  value: a.value * b.value,
  low: a.low * b.low,
  high: a.high * b.high,
});

/** The middle of the readings, at the time of the last. */
function stood(readings: readonly Reading[]): Reading | undefined {
  const last = readings.at(-1);
  return (
    last && {
      ...last,
      voltageV: median(readings.map(({ voltageV }) => voltageV)),
      currentA: median(readings.map(({ currentA }) => currentA)),
    }
  );
}
