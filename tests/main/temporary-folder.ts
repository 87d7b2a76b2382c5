import { mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

/** A folder of this test's own, gone when the test ends. */
export function temporaryFolder(): string {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'tankside-test-')));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
