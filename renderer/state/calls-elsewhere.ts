import type { UnitSystem } from '../../core/units/unit-table.ts';
import { beganAtMs } from '../../core/shop/run-summary.ts';
import { isSimulated } from '../../core/shop/run-record.ts';
import { standingCalls, type RunCall } from './run-calls.ts';
import type { RunView } from './run-view.ts';

/** A call of a run that this window does not show. */
export interface CallElsewhere extends RunCall {
  readonly runId: string;
  readonly runName: string;
  /** By the wall clock. */
  readonly beganAtMs: number;
  readonly simulated: boolean;
  /** No window keeps that run. */
  readonly isUnkept: boolean;
}

/** What nobody may miss, whatever window is in front; steps and readings that are due are their own window's to say. */
const HEARD_EVERYWHERE: readonly RunCall['kind'][] = ['event', 'still-on', 'no-current', 'hold-done'];

/** That window's supply is not this one's. */
const NO_DESK = { status: 'off', gap: null } as const;

/** What stands in the runs of other windows, and in those that no window keeps. */
export function callsElsewhere(
  { elsewhere, unkept, silencedHere }: Pick<RunView, 'elsewhere' | 'unkept' | 'silencedHere'>,
  system: UnitSystem,
): CallElsewhere[] {
  return elsewhere.flatMap((view) => {
    const { record } = view;
    if (!record) return [];
    const of = {
      runId: record.id,
      runName: record.name,
      beganAtMs: beganAtMs(record),
      simulated: isSimulated(record),
      isUnkept: unkept.some(({ id }) => id === record.id),
    };
    return standingCalls(view, NO_DESK, system)
      .filter(({ kind }) => HEARD_EVERYWHERE.includes(kind))
      .map((call) => {
        const id = `${record.id} ${call.id}`;
        return { ...call, ...of, id, rings: call.rings && !silencedHere.includes(id) };
      });
  });
}
