/**
 * The protocol between the preload and Electron's main process: one channel for each question of the Bridge, and
 * the shape of what travels to main. Both sides import this file; the answers are typed by the Bridge itself.
 */
import { z } from 'zod';

export const bridgeChannels = {
  startupFiles: 'bridge:startup-files',
  filesOpened: 'bridge:files-opened',
  menuCommand: 'bridge:menu-command',
  chooseFiles: 'bridge:choose-files',
  grantDropped: 'bridge:grant-dropped',
  saveJob: 'bridge:save-job',
  recentJobs: 'bridge:recent-jobs',
  openRecent: 'bridge:open-recent',
  windowState: 'bridge:window-state',
  savePdf: 'bridge:save-pdf',
  serialPortsFound: 'bridge:serial-ports-found',
  chooseSerialPort: 'bridge:choose-serial-port',
} as const;

/**
 * What main accepts on each channel. Marked pure so that the preload, which needs the names alone, does not carry
 * the schema library.
 */
export const bridgePayloads = /* @__PURE__ */ (() => {
  const id = z.string().min(1).max(128);
  const fileName = z.string().min(1).max(255);
  return {
    nothing: z.undefined(),
    chooseFiles: z.enum(['model', 'job']),
    /** Paths in the order of the dropped files; 32,767 characters is the longest path any system knows. */
    grantDropped: z.array(z.string().min(1).max(32_767)).max(1000),
    saveJob: z.strictObject({
      bytes: z.instanceof(Uint8Array).refine((bytes) => bytes.byteLength > 0, 'a job file is never empty'),
      suggestedName: fileName,
      target: z.strictObject({ id, name: fileName }).nullable(),
    }),
    openRecent: id,
    windowState: z.strictObject({ title: z.string().max(500), unsaved: z.boolean(), runGoesOn: z.boolean() }),
    savePdf: fileName,
    chooseSerialPort: id.nullable(),
  };
})();
