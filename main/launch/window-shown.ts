/** What Electron tells the launcher once its window is on the screen. */
export const windowShown = 'window-shown';

/** Set by the launcher for the process it starts: others may hold a line to Electron as well. */
export const launchedMark = 'TANKSIDE_LAUNCHED';

/** Tells the launcher, if one started this process, and lets the line go. */
export function reportWindowShown(
  to: Pick<NodeJS.Process, 'env' | 'send' | 'connected' | 'disconnect'> = process,
): void {
  if (to.env[launchedMark] !== '1' || !to.send || !to.connected) return;
  to.send(windowShown, () => to.disconnect());
}
