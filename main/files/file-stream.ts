import type { FileHandle } from 'node:fs/promises';

const CHUNK_BYTES = 1 << 20;

/**
 * The first `byteLength` bytes of an open file as a web stream, read as they are asked for. The handle is closed at
 * the end, at an error and when the reader cancels. A file that grew or shrank since it was measured is cut off at
 * `byteLength`, or fails, so that the promised content-length always holds.
 */
export function fileStream(handle: FileHandle, byteLength: number): ReadableStream<Uint8Array> {
  let position = 0;
  return new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        try {
          const want = Math.min(CHUNK_BYTES, byteLength - position);
          if (want > 0) {
            const { bytesRead, buffer } = await handle.read(new Uint8Array(want), 0, want, position);
            if (bytesRead === 0) throw new Error('The file became shorter while it was read.');
            position += bytesRead;
            controller.enqueue(buffer.subarray(0, bytesRead));
          }
          if (position < byteLength) return;
          await handle.close();
          controller.close();
        } catch (cause) {
          await handle.close().catch(() => undefined);
          controller.error(cause);
        }
      },
      async cancel() {
        await handle.close().catch(() => undefined);
      },
    },
    { highWaterMark: 1 },
  );
}
