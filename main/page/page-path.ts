import { realpath, stat } from 'node:fs/promises';
import { join, sep } from 'node:path';

/**
 * The file of the built page that a request's path stands for, or null when there is none inside `folder`.
 * Refused before the disk is touched: `..` in any spelling, empty and dotted names, backslashes, colons (drives,
 * streams), control characters. Refused after: whatever a link leads out of the folder.
 *
 * @param requestPath still percent-encoded, beginning with `/`, without query
 */
export async function pagePath(folder: string, requestPath: string): Promise<string | null> {
  if (!requestPath.startsWith('/')) return null;
  const parts = requestPath === '/' ? ['index.html'] : requestPath.slice(1).split('/').map(decode);
  if (!parts.every((part): part is string => part !== null && isPlainName(part))) return null;
  try {
    const root = await realpath(folder);
    const file = await realpath(join(root, ...parts));
    if (!file.startsWith(root.endsWith(sep) ? root : root + sep)) return null;
    return (await stat(file)).isFile() ? file : null;
  } catch {
    return null;
  }
}

function decode(part: string): string | null {
  try {
    return decodeURIComponent(part);
  } catch {
    return null;
  }
}

function isPlainName(name: string): boolean {
  return name !== '' && !name.startsWith('.') && !/[/\\:\u0000-\u001f]/.test(name);
}
