import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream as NodeReadableStream } from 'node:stream/web';
import { failure, success, type Result } from '../core/result.ts';
import {
  answerPageRequest,
  grantedPrefix,
  plainAnswer,
  type PageAnswer,
  type PageSite,
} from './page/answer-page-request.ts';

/** A file named on the command line, as `granted.json` lists it: `url` is a path on the page's own origin. */
export interface ListedFile {
  readonly name: string;
  readonly byteLength: number;
  readonly url: string;
}

export interface PageServer {
  /** `http://127.0.0.1:PORT/` */
  readonly address: string;
  close(): Promise<void>;
}

/** Where the page finds the files named on the command line, as a JSON array of ListedFile. */
const grantedList = '/granted.json';

export function servedAddress(token: string): string {
  return grantedPrefix + token;
}

/**
 * Serves the built page to this machine's own browsers, and nothing else to anybody: 127.0.0.1 only; only under its
 * own name, so that no other site's name can be pointed at it; nothing of the user's files to another site's page.
 *
 * @param port 0 takes any free one
 */
export async function servePage(
  site: PageSite,
  listed: readonly ListedFile[],
  port: number,
): Promise<Result<PageServer>> {
  const server = createServer((request, response) => {
    void answer(request)
      .then((given) => send(given, response))
      .catch(() => response.destroy());
  });

  const answer = async (request: IncomingMessage): Promise<PageAnswer> => {
    const { port: ownPort } = server.address() as AddressInfo;
    const host = request.headers.host;
    if (host !== `127.0.0.1:${ownPort}` && host !== `localhost:${ownPort}`) {
      return plainAnswer(421, 'This server answers to 127.0.0.1 only.');
    }
    const requestPath = /^[^?#]*/.exec(request.url ?? '')?.[0] ?? '';
    const isGranted = requestPath === grantedList || requestPath.startsWith(grantedPrefix);
    if (isGranted && isFromAnotherSite(request))
      return plainAnswer(403, 'Only the program reads these files.');
    const method = request.method ?? '';
    if (requestPath === grantedList && (method === 'GET' || method === 'HEAD')) {
      const list = plainAnswer(200, JSON.stringify(listed), {
        'content-type': 'application/json; charset=utf-8',
      });
      return method === 'HEAD' ? { ...list, body: null } : list;
    }
    return answerPageRequest(site, method, requestPath);
  };

  try {
    await new Promise<void>((settle, refuse) => {
      server.once('error', refuse);
      server.listen(port, '127.0.0.1', settle);
    });
  } catch (cause) {
    const { code } = cause as NodeJS.ErrnoException;
    return failure(
      'port-not-free',
      code === 'EADDRINUSE'
        ? `Port ${port} is taken by another program.`
        : `Port ${port} cannot be used (${code}).`,
      'Leave --port away to take any free one.',
    );
  }
  const { port: ownPort } = server.address() as AddressInfo;
  return success({
    address: `http://127.0.0.1:${ownPort}/`,
    close: () =>
      new Promise<void>((settle) => {
        server.close(() => settle());
        server.closeAllConnections();
      }),
  });
}

/** Browsers say where a request comes from; what says nothing is no page at all. */
function isFromAnotherSite(request: IncomingMessage): boolean {
  const from = request.headers['sec-fetch-site'];
  return from !== undefined && from !== 'same-origin' && from !== 'none';
}

async function send(given: PageAnswer, response: ServerResponse): Promise<void> {
  response.writeHead(given.status, given.headers);
  if (given.body instanceof ReadableStream) {
    await pipeline(Readable.fromWeb(given.body as NodeReadableStream<Uint8Array>), response);
  } else {
    response.end(given.body ?? undefined);
  }
}
