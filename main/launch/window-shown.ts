/** What Electron tells the launcher once its window is on the screen. */
export const windowShown = 'window-shown';

/** Tells the launcher, if one started this process, and lets the line go. */
export function reportWindowShown(): void {
  if (!process.send || !process.connected) return;
  process.send(windowShown, () => process.disconnect());
}
