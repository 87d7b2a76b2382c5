import type { PowerSaveBlocker } from 'electron';

/**
 * Keeps the computer from going to sleep while it is wanted: asleep it hears no supply and rings no alarm. The screen may go
 * dark behind other windows; the page keeps it on while it is seen.
 */
export function stayAwake(blocker: Pick<PowerSaveBlocker, 'start' | 'stop'>): (isWanted: boolean) => void {
  let held: number | null = null;
  return (isWanted) => {
    if (isWanted) held ??= blocker.start('prevent-app-suspension');
    else if (held !== null) {
      blocker.stop(held);
      held = null;
    }
  };
}
