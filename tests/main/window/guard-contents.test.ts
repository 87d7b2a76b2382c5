import type { Session, WebContents } from 'electron';
import { expect, test } from 'vitest';
import { guardContents, refuseRemoteContent } from '../../../main/window/guard-contents.ts';
import { preventable, StandInContents, StandInSession } from '../electron-stand-in.ts';

function guarded(): StandInContents {
  const contents = new StandInContents();
  guardContents(contents as unknown as WebContents);
  return contents;
}

const elsewhere = [
  'https://example.com/',
  'http://127.0.0.1/',
  'file:///etc/passwd',
  'data:text/html,x',
  'blob:tankside://app/1',
  'javascript:alert(1)',
  'about:blank',
  'tankside://other/index.html',
  'tankside://app/granted/token',
  'tankside://app/index.html.evil',
];

test.each(['will-navigate', 'will-redirect', 'will-frame-navigate'])('%s leads nowhere else', (event) => {
  const contents = guarded();
  for (const url of elsewhere) {
    const asked = preventable(url);
    contents.emit(event, asked);
    expect(asked.prevented, url).toBe(true);
  }
  for (const own of ['tankside://app/index.html', 'tankside://app/index.html#sheet']) {
    const again = preventable(own);
    contents.emit(event, again);
    expect(again.prevented, own).toBe(false);
  }
});

test('no new window opens, and no webview attaches', () => {
  const contents = guarded();
  for (const url of [...elsewhere, 'tankside://app/index.html']) {
    expect(contents.windowOpenHandler?.({ url })).toEqual({ action: 'deny' });
  }
  const webview = preventable();
  contents.emit('will-attach-webview', webview, {}, {});
  expect(webview.prevented).toBe(true);
});

test('nothing is fetched from another place', () => {
  const session = new StandInSession();
  refuseRemoteContent(session as unknown as Session);
  const cancelled = (url: string): boolean => {
    let answer: boolean | null = null;
    session.beforeRequest?.({ url }, ({ cancel }) => (answer = cancel));
    if (answer === null) throw new Error('no answer');
    return answer;
  };
  for (const url of [
    'https://example.com/a.js',
    'http://127.0.0.1:80/',
    'ws://example.com/',
    'file:///etc/passwd',
    'ftp://example.com/',
    'blob:https://example.com/1',
    'tankside://other/',
    'chrome-extension://a/',
  ]) {
    expect(cancelled(url), url).toBe(true);
  }
  for (const url of [
    'tankside://app/index.html',
    'tankside://app/granted/x',
    'blob:tankside://app/1',
    'data:image/png;base64,AA==',
  ]) {
    expect(cancelled(url), url).toBe(false);
  }
});
