import type { FileContent } from '../../core/bridge/bridge.ts';
import { failure, success, type Result } from '../../core/result.ts';

/** The whole of a granted file. */
export async function readBytes(content: FileContent): Promise<Result<Uint8Array>> {
  try {
    if (content.via === 'blob') return success(new Uint8Array(await content.blob.arrayBuffer()));
    const answer = await fetch(content.url);
    if (!answer.ok) throw new Error(`status ${answer.status}`);
    return success(new Uint8Array(await answer.arrayBuffer()));
  } catch {
    return failure(
      'file-unreadable',
      'The file could not be read; it may have been moved, or is held by another program.',
      'Choose the file again.',
    );
  }
}
