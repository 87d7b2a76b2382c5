import { open, readFile } from 'node:fs/promises';
import { fileStream } from '../files/file-stream.ts';
import type { Grants } from '../files/grants.ts';
import { mimeType } from './mime-type.ts';
import { pageHeaders } from './page-headers.ts';
import { pagePath } from './page-path.ts';

export interface PageSite {
  /** Folder of the built page. */
  readonly folder: string;
  readonly grants: Grants;
}

export interface PageAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Uint8Array<ArrayBuffer> | ReadableStream<Uint8Array> | null;
}

/** Where a granted file is read, followed by its token. */
export const grantedPrefix = '/granted/';

/**
 * One answer for both ways to the page, Electron's own scheme and the launcher's server: a file of the built page,
 * or a file the user granted. Nothing else exists.
 *
 * @param requestPath still percent-encoded, beginning with `/`, without query
 */
export async function answerPageRequest(
  site: PageSite,
  method: string,
  requestPath: string,
): Promise<PageAnswer> {
  if (method !== 'GET' && method !== 'HEAD') {
    return plainAnswer(405, 'Only reading is possible here.', { allow: 'GET, HEAD' });
  }
  const answer = requestPath.startsWith(grantedPrefix)
    ? await answerGranted(site.grants, requestPath.slice(grantedPrefix.length), method)
    : await answerPageFile(site.folder, requestPath);
  return method === 'HEAD' ? { ...answer, body: null } : answer;
}

/** Every answer that is not a file is one line of text. */
export function plainAnswer(
  status: number,
  text: string,
  headers: Readonly<Record<string, string>> = {},
): PageAnswer {
  const body = new Uint8Array(Buffer.from(`${text}\n`));
  return {
    status,
    headers: {
      ...pageHeaders,
      'content-type': 'text/plain; charset=utf-8',
      'content-length': String(body.byteLength),
      'cache-control': 'no-store',
      ...headers,
    },
    body,
  };
}

async function answerPageFile(folder: string, requestPath: string): Promise<PageAnswer> {
  const file = await pagePath(folder, requestPath);
  if (file === null) return plainAnswer(404, 'There is no such page.');
  // Read whole: a packaged program keeps its page in an archive, where only whole files are read in place.
  const body = new Uint8Array(await readFile(file));
  return {
    status: 200,
    headers: {
      ...pageHeaders,
      'content-type': mimeType(file),
      'content-length': String(body.byteLength),
      'cache-control': 'no-cache',
    },
    body,
  };
}

async function answerGranted(grants: Grants, token: string, method: string): Promise<PageAnswer> {
  const grant = grants.find(token);
  if (!grant) return plainAnswer(404, 'This file was not opened by you.');
  try {
    const handle = await open(grant.path, 'r');
    const info = await handle.stat();
    const readable = info.isFile();
    if (!readable || method === 'HEAD') await handle.close();
    if (!readable) return plainAnswer(410, 'This is no longer a file.');
    return {
      status: 200,
      headers: {
        ...pageHeaders,
        // Never as a page of our origin, whatever the file contains.
        'content-type': 'application/octet-stream',
        'content-length': String(info.size),
        'cache-control': 'no-store',
      },
      body: method === 'HEAD' ? null : fileStream(handle, info.size),
    };
  } catch {
    return plainAnswer(410, 'The file can no longer be read.');
  }
}
