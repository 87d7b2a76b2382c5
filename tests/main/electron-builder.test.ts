import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const project = join(import.meta.dirname, '../..');

// The packager's own reader and checker, by way of the packager: they are its dependencies, not ours.
const fromPackager = createRequire(createRequire(import.meta.url).resolve('electron-builder'));
const { getConfig, validateConfiguration } = fromPackager('app-builder-lib/out/util/config/config') as {
  getConfig(projectFolder: string, file: string | null): Promise<Record<string, unknown>>;
  validateConfiguration(config: unknown, log: { isEnabled: boolean }): Promise<void>;
};

interface Packaging {
  readonly appId: string;
  readonly files: readonly { readonly filter: readonly string[] }[];
  readonly icon: string;
  readonly publish: unknown;
  readonly fileAssociations: readonly { readonly ext: string }[];
  readonly [system: string]: unknown;
}

async function packaging(): Promise<Packaging> {
  return (await getConfig(project, null)) as unknown as Packaging;
}

test("the packager's own schema takes it, and would not take a misspelling", async () => {
  const config = await packaging();
  await validateConfiguration(config, { isEnabled: false });
  await expect(
    validateConfiguration({ ...config, fileAsociations: [] }, { isEnabled: false }),
  ).rejects.toThrow(/fileAsociations/);
});

test('packages for three systems, published nowhere, jobs opened by a double click', async () => {
  const config = await packaging();
  expect(config).toMatchObject({
    appId: 'io.tankside.app',
    linux: { target: ['AppImage', 'deb'] },
    win: { target: ['nsis'] },
    mac: { target: ['dmg'] },
  });
  expect(config.publish).toBeNull();
  expect(config.fileAssociations.map(({ ext }) => ext)).toEqual(['tankside']);
});

test('what it packs is what is built, and is enough to start', async () => {
  const { files } = await packaging();
  const packed = files.flatMap(({ filter }) => filter).filter((pattern) => !pattern.startsWith('!'));
  for (const pattern of packed) {
    const fixed = pattern.replace(/\/\*\*.*$/, '');
    expect(existsSync(join(project, fixed)), fixed).toBe(true);
  }
  const { main } = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8')) as { main: string };
  expect(packed).toContain(main);
  // Node's own modules, Electron, and the shared pieces beside it: nothing from node_modules.
  const code = readFileSync(join(project, main), 'utf8');
  for (const [, name = ''] of code.matchAll(/^import .* from "([^"]+)";$/gm)) {
    expect(name).toMatch(/^(node:|electron$|\.\/shared\/)/);
  }
});

test('the icon is a square PNG of at least 512 pixels, as macOS and Windows need', async () => {
  const png = readFileSync(join(project, (await packaging()).icon));
  // PNG specification: the signature, then the IHDR chunk with width and height as 32-bit numbers.
  expect(png.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]));
  expect(png.toString('latin1', 12, 16)).toBe('IHDR');
  expect(png.readUInt32BE(16)).toBe(png.readUInt32BE(20));
  expect(png.readUInt32BE(16)).toBeGreaterThanOrEqual(512);
});
