/**
 * `npm start`: opens the program in Electron, or serves the same page for a browser where Electron cannot be had.
 */
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { failure, success } from '../core/result.ts';
import { describeFile } from './files/describe-file.ts';
import { Grants } from './files/grants.ts';
import { namedFiles } from './files/named-files.ts';
import { findElectronBinary } from './launch/electron-binary.ts';
import { fetchElectron } from './launch/fetch-electron.ts';
import { launch, type LaunchEffects } from './launch/launch.ts';
import { launchArguments, launchHelp } from './launch/launch-arguments.ts';
import { hasDisplay, openBrowser } from './launch/open-browser.ts';
import { runElectron } from './launch/run-electron.ts';
import { serveAtUsualPort } from './launch/serve-at-usual-port.ts';
import { servedAddress, servePage, type ListedFile } from './serve-page.ts';

const FETCH_LIMIT_MS = 10 * 60_000;

const appFolder = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const pageFolder = join(appFolder, 'dist', 'renderer');

process.exitCode = await main(process.argv.slice(2));

async function main(args: readonly string[]): Promise<number> {
  const asked = launchArguments(args);
  if (!asked.ok) return refuse(asked.error);
  const wishes = asked.value;
  if (wishes.help) {
    console.log(launchHelp);
    return 0;
  }

  // npm runs its scripts in the package's folder and says where it was called.
  const calledIn = process.env['npm_lifecycle_event'] === 'start' ? process.env['INIT_CWD'] : undefined;
  const paths = namedFiles(['--', ...wishes.files], calledIn ?? process.cwd());
  const grants = new Grants();
  const listed: ListedFile[] = [];
  for (const path of paths) {
    const file = await describeFile(path, grants, servedAddress);
    if (!file.ok) return refuse(file.error);
    const { name, byteLength, content } = file.value;
    if (content.via === 'url') listed.push({ name, byteLength, url: content.url });
  }

  const electronFolder = electronPackageFolder();
  const effects: LaunchEffects = {
    hasDisplay: () => hasDisplay(process.platform, process.env),
    findElectron: () =>
      electronFolder === null
        ? null
        : findElectronBinary(electronFolder, process.env['ELECTRON_OVERRIDE_DIST_PATH'], process.platform),
    fetchElectron: async () =>
      electronFolder === null
        ? failure(
            'electron-not-installed',
            'The electron package is not installed.',
            'Run npm ci for a window of its own.',
          )
        : fetchElectron(electronFolder, FETCH_LIMIT_MS),
    runElectron: (binary) => runElectron(binary, appFolder, paths),
    async servePage() {
      if (!existsSync(join(pageFolder, 'index.html'))) {
        return failure('page-not-built', 'The page has not been built.', 'Run npm run build first.');
      }
      const server = await serveAtUsualPort(
        (port) => servePage({ folder: pageFolder, grants }, listed, port),
        wishes.port,
        (line) => console.log(line),
      );
      if (!server.ok) return server;
      const stop = (): void => void server.value.close();
      process.once('SIGINT', stop);
      process.once('SIGTERM', stop);
      return success(server.value.address);
    },
    openBrowser: (address) => openBrowser(process.platform, address),
    say: (line) => console.log(line),
  };

  const outcome = await launch(wishes, effects);
  if (outcome.shell === 'electron') return outcome.exitCode;
  return outcome.shell === 'browser' ? 0 : 1;
}

function refuse({ message, remedy }: { readonly message: string; readonly remedy: string }): number {
  console.error(`${message} ${remedy}`);
  return 2;
}

/** Found without loading it. */
function electronPackageFolder(): string | null {
  try {
    return dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  } catch {
    return null;
  }
}
