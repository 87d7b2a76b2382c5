import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import type { FileSource } from '../../core/bridge/bridge.ts';
import { failure, success, type Result } from '../../core/result.ts';
import type { Grants } from './grants.ts';

/**
 * Grants the page this one file and says where to read it.
 *
 * @param path absolute
 * @param addressOf turns a grant's token into an address on the page's own origin
 */
export async function describeFile(
  path: string,
  grants: Grants,
  addressOf: (token: string) => string,
): Promise<Result<FileSource>> {
  const name = basename(path);
  let info;
  try {
    info = await stat(path);
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code;
    return code === 'ENOENT' || code === 'ENOTDIR'
      ? failure(
          'file-missing',
          `There is no file ${path}.`,
          'Look whether it was moved or renamed, then open it again.',
        )
      : failure(
          'file-unreadable',
          `The file ${path} cannot be reached (${code ?? String(cause)}).`,
          'Check that its drive is connected and that you may read it.',
        );
  }
  if (!info.isFile()) {
    return failure('not-a-file', `${path} is a folder, not a file.`, 'Name the model or job file inside it.');
  }
  const token = grants.grant(path);
  return success({
    name,
    byteLength: info.size,
    content: { via: 'url', url: addressOf(token) },
    ...(grants.find(token)?.mayWrite ? { target: { id: token, name } } : {}),
  });
}
