import { readFile } from 'node:fs/promises';
import { failure, success, type Result } from '../../core/result.ts';

/** A file's bytes, or why there are none: `file-not-found`, `file-is-folder`, `file-not-readable`, `file-too-long`. */
export async function readFileBytes(path: string): Promise<Result<Uint8Array>> {
  try {
    const bytes = await readFile(path);
    return success(new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code;
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      return failure('file-not-found', 'There is no such file.', 'Check the name and the folder.');
    }
    if (code === 'EISDIR') return failure('file-is-folder', 'This is a folder.', 'Name a file in it.');
    if (code === 'ERR_FS_FILE_TOO_LARGE') {
      return failure(
        'file-too-long',
        'The file is longer than 2 GB.',
        'Export the part as binary STL, or with a coarser tolerance.',
      );
    }
    return failure(
      'file-not-readable',
      `The file could not be read (${code ?? String(cause)}).`,
      'Check its permissions.',
    );
  }
}

/** All that is piped in; `nothing-piped` where standard input is the keyboard. */
export async function readPiped(input: NodeJS.ReadStream = process.stdin): Promise<Result<Uint8Array>> {
  if (input.isTTY) {
    return failure(
      'nothing-piped',
      'Nothing is piped in.',
      'For example: tankside simulate | tankside watch - …, or name a file.',
    );
  }
  const chunks: Uint8Array[] = [];
  for await (const chunk of input) chunks.push(typeof chunk === 'string' ? Buffer.from(chunk) : chunk);
  return success(Buffer.concat(chunks));
}
