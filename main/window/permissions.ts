import type { Session } from 'electron';
import { isAppUrl } from './app-scheme.ts';

/** Electron's own list of permission names. */
export type PagePermission = Parameters<NonNullable<Parameters<Session['setPermissionCheckHandler']>[0]>>[1];

/**
 * What the page may use: a supply's serial port (which one is the user's choice, see serial-ports.ts), notifications when a step is
 * over or a contact is lost, and a screen that stays on during a run.
 */
export const pagePermissions: readonly PagePermission[] = ['serial', 'notifications', 'screen-wake-lock'];

/** Only the program's own page, only in its main frame, only what the list names. */
export function limitPermissions(
  session: Session,
  allowed: readonly PagePermission[] = pagePermissions,
): void {
  const may = (permission: string, requestingUrl: string, isMainFrame: boolean): boolean =>
    isMainFrame && isAppUrl(requestingUrl) && (allowed as readonly string[]).includes(permission);

  session.setPermissionCheckHandler((_contents, permission, requestingOrigin, details) =>
    may(permission, requestingOrigin, details.isMainFrame),
  );
  session.setPermissionRequestHandler((_contents, permission, answer, details) => {
    answer(may(permission, details.requestingUrl, details.isMainFrame));
  });
  session.setDevicePermissionHandler((details) => may(details.deviceType, details.origin, true));
}
