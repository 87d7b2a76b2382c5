import type { UnitSystem } from '../../core/units/unit-table.ts';
import { callsElsewhere } from './calls-elsewhere.ts';
import { standingCalls } from './run-calls.ts';
import type { RunView } from './run-view.ts';
import type { StageStanding } from './stage-standing.ts';
import type { SupplyDeskState } from './supply-desk.ts';

/** How the run in this window stands, kept here or followed, and what calls in others; null where none goes on and none left the current on. */
export function runStanding(
  view: RunView,
  desk: Pick<SupplyDeskState, 'status' | 'gap'>,
  system: UnitSystem,
): StageStanding | null {
  const { record } = view;
  const calls = standingCalls(view, desk, system);
  const isCalled = calls.some(({ kind }) => STOPS.includes(kind));
  if (isCalled || callsElsewhere(view, system).length > 0) return 'stop';
  if (!record) return null;
  if (calls.length > 0) return 'look';
  return record.endedAtMs === null ? 'ready' : null;
}

const STOPS: readonly string[] = ['event', 'still-on', 'no-current', 'hold-done'];
