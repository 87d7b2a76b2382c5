import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { fetchElectron } from '../../../main/launch/fetch-electron.ts';
import { temporaryFolder } from '../temporary-folder.ts';

/** A package whose install script is this. */
function packageWith(script: string): string {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'install.js'), script);
  return folder;
}

test("runs the package's own script", async () => {
  const folder = packageWith("require('fs').writeFileSync(__dirname + '/ran', '')");
  expect(await fetchElectron(folder, 20_000)).toEqual({ ok: true, value: null });
});

test.each([
  ["console.error('TypeError: fetch failed\\n    at node:internal'); process.exit(1)", /cannot be reached/],
  ["throw Object.assign(new Error('getaddrinfo ENOTFOUND github.com'))", /cannot be reached/],
  [
    "console.error('Error: checksum does not match.\\n    at x'); process.exit(3)",
    /checksum does not match\)/,
  ],
  ['process.exit(1)', /no reason given/],
])('says in one line why it failed: %s', async (script, why) => {
  const fetched = await fetchElectron(packageWith(script), 20_000);
  if (fetched.ok) throw new Error('fetched');
  expect(fetched.error.code).toBe('electron-not-fetched');
  expect(fetched.error.message).toMatch(why);
  expect(fetched.error.message).not.toContain('\n');
});

test('a package without the script, and one that never ends, fail within the limit', async () => {
  expect(await fetchElectron(temporaryFolder(), 20_000)).toMatchObject({ ok: false });
  const startedAt = performance.now();
  const stuck = await fetchElectron(packageWith('setInterval(() => {}, 1000)'), 700);
  expect(stuck).toMatchObject({ ok: false, error: { message: expect.stringContaining('no answer within') } });
  // Well under the script's own end, which never comes; starting a process on a busy machine takes a second or two.
  expect(performance.now() - startedAt).toBeLessThan(10_000);
});
