import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Where Electron keeps its program inside its folder, for each system it is made for. */
const programByPlatform: Readonly<Partial<Record<NodeJS.Platform, string>>> = {
  linux: 'electron',
  freebsd: 'electron',
  openbsd: 'electron',
  win32: 'electron.exe',
  darwin: 'Electron.app/Contents/MacOS/Electron',
};

/**
 * Electron's program, or null when it was not fetched yet. The package itself is not loaded: in plain Node that
 * starts the download.
 *
 * @param packageFolder folder of the `electron` package
 * @param distOverride  ELECTRON_OVERRIDE_DIST_PATH, if set
 */
export function findElectronBinary(
  packageFolder: string,
  distOverride: string | undefined,
  platform: NodeJS.Platform,
): string | null {
  const program = recordedProgram(packageFolder) ?? programByPlatform[platform];
  if (program === undefined) return null;
  const binary = join(distOverride || join(packageFolder, 'dist'), program);
  return existsSync(binary) ? binary : null;
}

/** The package writes the program's name beside itself once it has fetched it. */
function recordedProgram(packageFolder: string): string | undefined {
  try {
    return readFileSync(join(packageFolder, 'path.txt'), 'utf8').trim() || undefined;
  } catch {
    return undefined;
  }
}
