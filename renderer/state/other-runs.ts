import { realClock } from './run-clock.ts';
import type { OtherRuns } from './run-shown.ts';
import type { RecorderParts, RunRecorder } from './run-view.ts';
import { createRunsElsewhere } from './runs-elsewhere.ts';
import { createUnkeptRuns, without } from './unkept-runs.ts';

/** What goes on beside the run a window shows: which runs there are, which of them no window keeps, and how they stand. */
export interface OtherRunsKnown {
  /** Resolves once the runs in progress have been listed, or could not be. */
  readonly listed: Promise<void>;
  /** From now on they are read along; before, one found as the window opens may yet become this window's own. */
  begin(): void;
  now(): OtherRuns;
  /** Looks which of them no window keeps. */
  look(): void;
  tick(): void;
  /** Their calls of these names ring no more in this window. */
  silence(calls: readonly string[]): void;
}

/**
 * @param ownId of the run this window shows
 * @param onChange after their list has changed
 */
export function createOtherRuns(
  view: RunRecorder['view'],
  { store, lock, machine }: Pick<RecorderParts, 'store' | 'lock' | 'machine'>,
  ownId: () => string | undefined,
  onChange: () => void,
  onTrouble: (fault: unknown) => void,
): OtherRunsKnown {
  const unkeptRuns = createUnkeptRuns(view, lock, machine, ownId);
  const elsewhere = createRunsElsewhere(store, onTrouble);
  const clock = realClock(machine);
  let hasBegun = false;
  const listed = new Promise<void>((resolve) => {
    store.followRunning(
      (running) => {
        unkeptRuns.listed(running);
        resolve();
        onChange();
      },
      (fault) => {
        onTrouble(fault);
        resolve();
      },
    );
  });

  return {
    listed,
    begin() {
      hasBegun = true;
    },
    now() {
      const { running, unkept, silencedHere } = view.getState();
      const others = without(running, ownId());
      elsewhere.follow(hasBegun ? others : []);
      return {
        running,
        unkept: without(unkept, ownId()),
        elsewhere: elsewhere.shown(clock.look()),
        silencedHere,
      };
    },
    look: () => unkeptRuns.look(),
    tick: () => unkeptRuns.tick(),
    silence(calls) {
      view.setState({ silencedHere: [...new Set([...view.getState().silencedHere, ...calls])] });
    },
  };
}
