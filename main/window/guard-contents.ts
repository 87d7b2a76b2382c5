import type { Session, WebContents } from 'electron';
import { appPage, isAppUrl } from './app-scheme.ts';

/** Keeps the window on its own page: it can be loaded again, and nothing else can be opened in it or from it. */
export function guardContents(contents: WebContents): void {
  contents.on('will-navigate', refuseOther);
  contents.on('will-redirect', refuseOther);
  contents.on('will-frame-navigate', refuseOther);
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
}

/** Nothing is fetched from anywhere but the program itself, even where the page's policy had a gap. */
export function refuseRemoteContent(session: Session): void {
  session.webRequest.onBeforeRequest((details, callback) => {
    callback({ cancel: !isLocal(details.url) });
  });
}

function refuseOther(event: { readonly url: string; preventDefault(): void }): void {
  if (withoutFragment(event.url) !== appPage) event.preventDefault();
}

function withoutFragment(address: string): string {
  const at = address.indexOf('#');
  return at < 0 ? address : address.slice(0, at);
}

function isLocal(address: string): boolean {
  return isAppUrl(address) || /^(blob:tankside:\/\/app\/|data:|devtools:)/.test(address);
}
