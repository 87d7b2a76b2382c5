import type { CustomScheme } from 'electron';
import { answerPageRequest, grantedPrefix, plainAnswer, type PageSite } from '../page/answer-page-request.ts';

/** The page's own origin: no file: addresses and no server, so no other program's page can ever be it. */
export const appOrigin = 'tankside://app';
export const appPage = `${appOrigin}/index.html`;

/** Registered before Electron is ready. Standard and secure, so that modules, workers and fetch work as on https. */
export const appScheme: CustomScheme = {
  scheme: 'tankside',
  privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true },
};

export function grantedAddress(token: string): string {
  return `${appOrigin}${grantedPrefix}${token}`;
}

/** True for an address on the page's own origin. */
export function isAppUrl(address: string): boolean {
  try {
    const url = new URL(address);
    return url.protocol === 'tankside:' && url.host === 'app' && url.username === '' && url.password === '';
  } catch {
    return false;
  }
}

/** What `protocol.handle` calls for every request of the scheme. */
export function appSchemeHandler(site: PageSite): (request: Request) => Promise<Response> {
  return async (request) => {
    const answer = isAppUrl(request.url)
      ? await answerPageRequest(site, request.method, new URL(request.url).pathname)
      : plainAnswer(404, 'There is no such page.');
    return new Response(answer.body as BodyInit | null, { status: answer.status, headers: answer.headers });
  };
}
