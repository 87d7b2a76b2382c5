import type { Session } from 'electron';
import { expect, test } from 'vitest';
import { limitPermissions, pagePermissions, type PagePermission } from '../../../main/window/permissions.ts';
import { StandInSession } from '../electron-stand-in.ts';

/** All three of Electron's questions, as one answer each; they must agree. */
function limited(allowed?: readonly PagePermission[]) {
  const session = new StandInSession();
  limitPermissions(session as unknown as Session, allowed);
  const call = (handler: unknown, ...args: unknown[]) =>
    (handler as (...args: unknown[]) => unknown)(...args);
  return {
    check: (permission: string, url: string, isMainFrame = true) =>
      call(session.checkPermission, null, permission, url, { isMainFrame }),
    request: (permission: string, url: string, isMainFrame = true) => {
      let answer: unknown = 'none';
      call(session.requestPermission, {}, permission, (granted: boolean) => (answer = granted), {
        requestingUrl: url,
        isMainFrame,
      });
      return answer;
    },
    device: (deviceType: string, origin: string) =>
      call(session.devicePermission, { deviceType, origin, device: {} }),
  };
}

const page = 'tankside://app/index.html';

test('the page may use a serial port, notifications and a screen that stays on, and nothing else', () => {
  expect([...pagePermissions].sort()).toEqual(['notifications', 'screen-wake-lock', 'serial']);
  const { check, request, device } = limited();
  for (const permission of pagePermissions) {
    expect(check(permission, page)).toBe(true);
    expect(request(permission, page)).toBe(true);
  }
  for (const permission of [
    'usb',
    'hid',
    'media',
    'geolocation',
    'clipboard-read',
    'fileSystem',
    'openExternal',
    'fullscreen',
    'unknown',
  ]) {
    expect(check(permission, page)).toBe(false);
    expect(request(permission, page)).toBe(false);
  }
  for (const type of ['usb', 'hid']) expect(device(type, 'tankside://app')).toBe(false);
});

test('what the list names is for the own page in its main frame alone', () => {
  const { check, request, device } = limited(['serial']);
  expect(check('serial', 'tankside://app/')).toBe(true);
  expect(request('serial', page)).toBe(true);
  expect(device('serial', 'tankside://app')).toBe(true);

  for (const stranger of ['https://example.com/', 'tankside://app.evil/', 'null', '']) {
    expect(check('serial', stranger)).toBe(false);
    expect(request('serial', stranger)).toBe(false);
    expect(device('serial', stranger)).toBe(false);
  }
  expect(check('serial', page, false)).toBe(false);
  expect(request('serial', page, false)).toBe(false);
  expect(check('usb', page)).toBe(false);
  expect(device('usb', 'tankside://app')).toBe(false);
});
