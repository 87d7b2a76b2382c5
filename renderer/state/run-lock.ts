/** How long to stand in the queue for a lock: not at all, some milliseconds, or until it is free. */
export type LockPatience = 'none' | 'any' | { readonly withinMs: number };

/** The right to write a run, held by one window at a time. */
export interface RunLock {
  /**
   * Resolves to whether it was had. A window wants one run at a time: a call ends an earlier one that still waits (it resolves
   * to false), and gives back what was held once the new one is had.
   */
  take(id: string, patience: LockPatience): Promise<boolean>;
  /** Those of these runs that no window holds; none where the browser does not say. Takes no lock: another window may want it now. */
  free(ids: readonly string[]): Promise<string[]>;
  /** Gives back what is held and ends what waits. */
  giveBack(): void;
}

const LOCK = (id: string): string => `tankside-run-${id}`;

export function createRunLock(locks: Pick<LockManager, 'request' | 'query'>): RunLock {
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

    async free(ids) {
      const all = await locks.query().catch(() => null);
      const held = all?.held?.map(({ name }) => name);
      return held ? ids.filter((id) => !held.includes(LOCK(id))) : [];
    },

    giveBack() {
      stopWaiting();
      release();
      release = () => {};
    },
  };
}
