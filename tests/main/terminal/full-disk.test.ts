/** A full disk, by the device of Linux that always is one. */
import { spawnSync } from 'node:child_process';
import { closeSync, existsSync, openSync } from 'node:fs';
import { expect, test } from 'vitest';

test.skipIf(!existsSync('/dev/full'))(
  'output that does not fit on the disk is said in two plain lines',
  () => {
    const full = openSync('/dev/full', 'w');
    const ended = spawnSync(process.execPath, ['dist/main/tankside.js', 'simulate', '--area', '88in2'], {
      encoding: 'utf8',
      stdio: ['ignore', full, 'pipe'],
    });
    closeSync(full);
    expect(ended.status).toBe(1);
    expect(ended.stderr).toMatch(/^The output could not be written: there is no room left on the disk\./);
    expect(ended.stderr.trimEnd().split('\n')).toHaveLength(2);
  },
);
