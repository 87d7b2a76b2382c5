import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { chromium, type Browser, type BrowserContext, type LaunchOptions, type Page } from 'playwright-core';

/** Isolation stays on apart from the process sandbox, which containers do not allow. */
const ARGS = ['--no-sandbox'];

const OWN_BROWSERS: Readonly<Partial<Record<NodeJS.Platform, readonly string[]>>> = {
  linux: ['/usr/bin/google-chrome', '/usr/bin/chromium', '/usr/bin/chromium-browser', '/snap/bin/chromium'],
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
  ],
};

/**
 * A Chromium for tests: the one inside the package wherever it runs (Linux on x64), with the system libraries that
 * come with it where the machine has none; elsewhere TANKSIDE_CHROME or the machine's own.
 */
export const launchBrowser = (): Promise<Browser> => start((options) => chromium.launch(options));

/** One that keeps what its pages store in a folder, and finds it there again when it is started anew. */
export const launchProfile = (folder: string): Promise<BrowserContext> =>
  start((options) =>
    chromium.launchPersistentContext(folder, {
      ...options,
      viewport: { width: 1440, height: 900 },
      locale: 'en-GB',
    }),
  );

async function start<T>(launch: (options: LaunchOptions) => Promise<T>): Promise<T> {
  const reasons: string[] = [];
  if (process.platform === 'linux' && process.arch === 'x64') {
    const folder = await unpackedChromium();
    const executablePath = join(folder, 'chromium');
    const bare = { ...process.env, ...fontSettings(folder) };
    for (const env of [bare, { ...bare, LD_LIBRARY_PATH: withOwnLibraries(folder) }]) {
      try {
        return await launch({ executablePath, args: ARGS, env: stringsOf(env) });
      } catch (error) {
        reasons.push(firstLine(error));
      }
    }
  }
  const named = process.env.TANKSIDE_CHROME;
  for (const executablePath of [...(named ? [named] : []), ...(OWN_BROWSERS[process.platform] ?? [])]) {
    if (!existsSync(executablePath)) continue;
    try {
      return await launch({ executablePath, args: ARGS });
    } catch (error) {
      reasons.push(`${executablePath}: ${firstLine(error)}`);
    }
  }
  throw new Error(
    `No browser for the tests: set TANKSIDE_CHROME to a Chrome or Chromium. Tried: ${reasons.join('; ') || 'nothing found'}`,
  );
}

/**
 * Collects what a page complains about. Call the result at the end of a test: it throws when there was a console
 * error, an uncaught exception or a request that failed.
 */
export function watchForErrors(page: Page): () => void {
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => complaints.push(`exception: ${error.message}`));
  page.on('requestfailed', (request) => {
    // The page itself stops requests when it is left or a load is cancelled.
    const text = request.failure()?.errorText ?? '';
    if (text !== 'net::ERR_ABORTED') complaints.push(`request: ${request.url()} ${text}`);
  });
  return () => {
    if (complaints.length > 0) throw new Error(`the page complained:\n${complaints.join('\n')}`);
  };
}

/**
 * The packaged browser, unpacked once a machine and user. Unpacked beside its place and then renamed, so that two
 * test runs at once never start half of it.
 */
async function unpackedChromium(): Promise<string> {
  const require = createRequire(import.meta.url);
  const manifest = join(dirname(require.resolve('@sparticuz/chromium')), '..', '..', 'package.json');
  const { version } = JSON.parse(readFileSync(manifest, 'utf8')) as { version: string };
  const home = tmpdir();
  const folder = join(home, `tankside-chromium-${version}-${process.getuid?.() ?? 'user'}`);
  if (existsSync(folder)) return folder;
  mkdirSync(home, { recursive: true });
  const half = mkdtempSync(`${folder}-`);
  // The package unpacks into the temporary folder, and its system libraries only where it believes to need them.
  const { default: packaged } = await import('@sparticuz/chromium');
  const before = { TMPDIR: process.env.TMPDIR, AWS_EXECUTION_ENV: process.env.AWS_EXECUTION_ENV };
  try {
    process.env.TMPDIR = half;
    process.env.AWS_EXECUTION_ENV = 'AWS_Lambda_nodejs22.x';
    await packaged.executablePath();
  } finally {
    for (const [name, value] of Object.entries(before)) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  }
  try {
    renameSync(half, folder);
  } catch (error) {
    // Another run was faster.
    rmSync(half, { recursive: true, force: true });
    if (!existsSync(folder)) throw error;
  }
  return folder;
}

function withOwnLibraries(folder: string): string {
  const own = join(folder, 'al2023', 'lib');
  return process.env.LD_LIBRARY_PATH ? `${own}:${process.env.LD_LIBRARY_PATH}` : own;
}

/** A bare machine has no fonts; the package brings some. */
function fontSettings(folder: string): Record<string, string> {
  return existsSync('/etc/fonts/fonts.conf') ? {} : { FONTCONFIG_PATH: join(folder, 'fonts') };
}

function stringsOf(env: Record<string, string | undefined>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(env).filter((entry): entry is [string, string] => entry[1] !== undefined),
  );
}

function firstLine(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).split('\n')[0]!;
}
