/** How long to stand in the queue for a lock: not at all, some milliseconds, or until it is free. */
export type LockPatience = 'none' | 'any' | { readonly withinMs: number };

/** The right to write a run, held by one window at a time. */
export interface RunLock {
  /**
   * Resolves to whether it was had. A window wants one run at a time: a call ends an earlier one that still waits (it resolves
   * to false), and gives back what was held once the new one is had.
   */
  take(id: string, patience: LockPatience): Promise<boolean>;
  /** Whether no window holds it. */
  isFree(id: string): Promise<boolean>;
  /** Gives back what is held and ends what waits. */
  giveBack(): void;
}

const LOCK = (id: string): string => `tankside-run-${id}`;

export function createRunLock(locks: Pick<LockManager, 'request'>): RunLock {
  let release: () => void = () => {};
  let stopWaiting: () => void = () => {};
  return {
    take(id, patience) {
      stopWaiting();
      const stopper = new AbortController();
      stopWaiting = () => stopper.abort();
      const { signal } = stopper;
      const timer =
        typeof patience === 'object' ? setTimeout(() => stopper.abort(), patience.withinMs) : undefined;
      return new Promise((resolve) => {
        const had = (held: Lock | null): Promise<void> | undefined => {
          clearTimeout(timer);
          // Granted in the moment in which somebody stopped waiting for it.
          if (held === null || signal.aborted) return void resolve(false);
          release();
          return new Promise<void>((free) => {
            release = free;
            resolve(true);
          });
        };
        const options: LockOptions = patience === 'none' ? { ifAvailable: true } : { signal };
        locks.request(LOCK(id), options, had).catch(() => resolve(false)); // stopped waiting
      });
    },

    isFree(id) {
      return new Promise((resolve) => {
        locks
          .request(LOCK(id), { ifAvailable: true }, (held) => resolve(held !== null))
          .catch(() => resolve(false));
      });
    },

    giveBack() {
      stopWaiting();
      release();
      release = () => {};
    },
  };
}
