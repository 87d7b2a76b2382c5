import type { UnitSystem } from '../../core/units/unit-table.ts';
import { standingCalls } from './run-calls.ts';
import type { RunView } from './run-view.ts';
import type { StageStanding } from './stage-standing.ts';
import type { SupplyDeskState } from './supply-desk.ts';

/** How the run in this window stands, kept here or followed; null where none goes on and none left the current on. */
export function runStanding(
  view: RunView,
  desk: Pick<SupplyDeskState, 'status' | 'gap'>,
  system: UnitSystem,
): StageStanding | null {
  const { record } = view;
  if (!record) return null;
  const calls = standingCalls(view, desk, system);
  if (calls.some(({ kind }) => STOPS.includes(kind))) return 'stop';
  if (calls.length > 0) return 'look';
  return record.endedAtMs === null ? 'ready' : null;
}

const STOPS: readonly string[] = ['event', 'still-on', 'no-current', 'hold-done'];
