import type { ClockLook } from '../../core/run/step-clock.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { followedLook } from './run-clock.ts';
import { shownRun } from './run-shown.ts';
import type { RunStore } from './run-store.ts';
import { NO_RUN, type NamedRun, type RunView } from './run-view.ts';
import { createRunWatching, type RunWatching } from './run-watching.ts';

/** Runs that go on beside the one a window shows: read along, so that their alarms are heard and seen here too. */
export interface RunsElsewhere {
  /** These and no others from now on. */
  follow(runs: readonly NamedRun[]): void;
  /** As they stand at this moment; those that were read by now. */
  shown(look: ClockLook): readonly RunView[];
}

interface Followed {
  readonly watching: RunWatching;
  record: RunRecord | null;
  stop: () => void;
}

export function createRunsElsewhere(
  store: Pick<RunStore, 'follow'>,
  onTrouble: (fault: unknown) => void,
): RunsElsewhere {
  const all = new Map<string, Followed>();

  const begin = (id: string): void => {
    const one: Followed = { watching: createRunWatching(), record: null, stop: () => {} };
    all.set(id, one);
    one.stop = store.follow(
      id,
      (stored) => {
        // One that can't be read is told of by who opens it.
        one.record = stored.ok ? stored.value.record : null;
        if (stored.ok) one.watching.goOn(stored.value.readings, stored.value.record);
      },
      onTrouble,
    );
  };

  return {
    follow(runs) {
      for (const [id, { stop }] of all) {
        if (runs.some((run) => run.id === id)) continue;
        stop();
        all.delete(id);
      }
      for (const { id } of runs) if (!all.has(id)) begin(id);
    },

    shown: (look) =>
      [...all.values()].flatMap(({ record, watching }) =>
        record === null
          ? []
          : [
              {
                ...NO_RUN,
                ...shownRun(record, followedLook(record, look), watching),
                role: 'follower' as const,
              },
            ],
      ),
  };
}
