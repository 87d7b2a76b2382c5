import { randomBytes } from 'node:crypto';
import { truncateSync, writeFileSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { fileStream } from '../../../main/files/file-stream.ts';
import { temporaryFolder } from '../temporary-folder.ts';

async function isClosed(handle: { stat(): Promise<unknown> }): Promise<boolean> {
  return handle.stat().then(
    () => false,
    () => true,
  );
}

// One byte either side of the chunk of 1 MiB, and nothing at all.
test.each([0, 1, (1 << 20) - 1, 1 << 20, (1 << 20) + 1, 3_500_000])(
  'streams %i bytes as they are',
  async (size) => {
    const file = join(temporaryFolder(), 'part.stl');
    const bytes = randomBytes(size);
    writeFileSync(file, bytes);
    const handle = await open(file);
    const read = Buffer.from(await new Response(fileStream(handle, size)).arrayBuffer());
    expect(read.equals(bytes)).toBe(true);
    expect(await isClosed(handle)).toBe(true);
  },
);

test('a file that shrank fails instead of ending early, and is closed', async () => {
  const file = join(temporaryFolder(), 'part.stl');
  writeFileSync(file, randomBytes(5000));
  const handle = await open(file);
  const stream = fileStream(handle, 5000);
  truncateSync(file, 100);
  await expect(new Response(stream).arrayBuffer()).rejects.toThrow();
  expect(await isClosed(handle)).toBe(true);
});

test('a reader that stops halfway closes the file', async () => {
  const file = join(temporaryFolder(), 'part.stl');
  writeFileSync(file, randomBytes(4_000_000));
  const handle = await open(file);
  const reader = fileStream(handle, 4_000_000).getReader();
  await reader.read();
  await reader.cancel();
  expect(await isClosed(handle)).toBe(true);
});
