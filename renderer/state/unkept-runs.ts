import type { StoreApi } from 'zustand/vanilla';
import type { RunLock } from './run-lock.ts';
import type { MachineClock } from './run-clock.ts';
import type { NamedRun, RunView } from './run-view.ts';

/** A window may be gone at any moment, and with it whoever kept a run. */
const LOOK_EVERY_MS = 10_000;

/** Of the runs in progress, or left on, those that no window keeps. */
export interface UnkeptRuns {
  /** These are in progress now. Those found again as the window opens are not looked at before that is done. */
  listed(running: readonly NamedRun[]): void;
  look(): void;
  /** Looks where the last look was some time ago. */
  tick(): void;
}

/** @param ownId of the run that this window shows */
export function createUnkeptRuns(
  view: StoreApi<RunView>,
  lock: Pick<RunLock, 'free'>,
  machine: Pick<MachineClock, 'forwardMs'>,
  ownId: () => string | undefined,
): UnkeptRuns {
  let lastMs = machine.forwardMs();

  const look = async (): Promise<void> => {
    lastMs = machine.forwardMs();
    const free = await lock.free(view.getState().running.map(({ id }) => id));
    const { running, unkept } = view.getState();
    const now = without(
      running.filter(({ id }) => free.includes(id)),
      ownId(),
    );
    if (JSON.stringify(now) !== JSON.stringify(unkept)) view.setState({ unkept: now });
  };

  return {
    listed(running) {
      const unkept = view.getState().unkept.filter(({ id }) => running.some((each) => each.id === id));
      view.setState({ running, unkept });
    },
    look: () => void look(),
    tick() {
      if (view.getState().running.length > 0 && machine.forwardMs() - lastMs >= LOOK_EVERY_MS) void look();
    },
  };
}

export const without = (runs: readonly NamedRun[], id: string | undefined): readonly NamedRun[] =>
  runs.filter((each) => each.id !== id);
