import type { FileContent } from '../../core/bridge/bridge.ts';
import { failure, success, type Result } from '../../core/result.ts';

/**
 * All bytes of a chosen file, read as a stream so that progress is real. `onBytes` gets the bytes so far and the
 * total, or null where the sender does not say. Failure code `file-unreadable`.
 */
export async function readContent(
  name: string,
  content: FileContent,
  onBytes: (read: number, total: number | null) => void,
): Promise<Result<Uint8Array<ArrayBuffer>>> {
  try {
    if (content.via === 'blob') {
      const { blob } = content;
      if (blob instanceof Blob) return success(await collect(blob.stream(), blob.size, onBytes));
      return success(new Uint8Array(await blob.arrayBuffer()));
    }
    const response = await fetch(content.url);
    if (!response.ok || !response.body) throw new Error(`answer ${response.status}`);
    const length = Number(response.headers.get('content-length') ?? NaN);
    return success(await collect(response.body, Number.isInteger(length) ? length : null, onBytes));
  } catch (error) {
    // A dropped folder looks like a file without an ending until it is read; the browser then speaks of the network.
    const folder = content.via === 'blob' && !/\.\w+$/.test(name);
    const reason = error instanceof Error ? error.message : String(error);
    return folder
      ? failure(
          'file-unreadable',
          `${name} can’t be read; it seems to be a folder.`,
          'Open the folder and drop the model files in it.',
        )
      : failure(
          'file-unreadable',
          content.via === 'blob' ? `${name} can’t be read.` : `${name} could not be read (${reason}).`,
          'Check that the file is still where it was and not open elsewhere, then open it again.',
        );
  }
}

async function collect(
  stream: ReadableStream<Uint8Array>,
  total: number | null,
  onBytes: (read: number, total: number | null) => void,
): Promise<Uint8Array<ArrayBuffer>> {
  const reader = stream.getReader();
  // A stated length is believed for the first allocation only: what comes decides.
  let bytes = new Uint8Array(total ?? 1 << 20);
  let read = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    if (read + value.length > bytes.length) {
      const larger = new Uint8Array(Math.max(bytes.length * 2, read + value.length));
      larger.set(bytes.subarray(0, read));
      bytes = larger;
    }
    bytes.set(value, read);
    read += value.length;
    onBytes(read, total);
  }
  return read === bytes.length ? bytes : bytes.slice(0, read);
}
