import { spawn } from 'node:child_process';
import { outputTail } from './output-tail.ts';
import { launchedMark, windowShown } from './window-shown.ts';

export type ElectronRun =
  { readonly started: true; readonly exitCode: number } | { readonly started: false; readonly cause: string };

/** A process that lived this long without a word did start: a program that cannot start dies within seconds. */
const STARTED_AFTER_MS = 30_000;

/**
 * Runs Electron until its window closes, and tells a program that ran from one that could not start: no display, a
 * missing system library, a sandbox the system does not allow.
 *
 * @param appFolder folder with the package.json
 * @param files     absolute paths
 */
export async function runElectron(
  binary: string,
  appFolder: string,
  files: readonly string[],
): Promise<ElectronRun> {
  const child = spawn(binary, [appFolder, ...files], {
    stdio: ['inherit', 'inherit', 'pipe', 'ipc'],
    env: { ...process.env, [launchedMark]: '1' },
  });
  const said = child.stderr ? outputTail(child.stderr, process.stderr) : () => '';
  const startedAt = performance.now();
  let shown = false;
  child.on('message', (message) => {
    if (message === windowShown) shown = true;
  });
  const pass = (signal: NodeJS.Signals): void => {
    child.kill(signal);
  };
  process.on('SIGINT', pass);
  process.on('SIGTERM', pass);
  try {
    return await new Promise<ElectronRun>((settle) => {
      child.on('error', (cause) => settle({ started: false, cause: cause.message }));
      child.on('close', (code, signal) => {
        const wanted = signal === 'SIGINT' || signal === 'SIGTERM';
        if (code === 0 || wanted || shown || performance.now() - startedAt > STARTED_AFTER_MS) {
          settle({ started: true, exitCode: code ?? (wanted ? 0 : 1) });
        } else {
          settle({ started: false, cause: startFailure(said(), code, signal) });
        }
      });
    });
  } finally {
    process.off('SIGINT', pass);
    process.off('SIGTERM', pass);
  }
}

/** Why it died, in plain words where the system's words are known. */
export function startFailure(output: string, code: number | null, signal: string | null): string {
  const library = /error while loading shared libraries: ([^\s:]+)/.exec(output)?.[1];
  if (library !== undefined) return `this system lacks the library ${library}`;
  if (/Missing X server|cannot open display|Unable to open X display|ozone_platform/i.test(output)) {
    return 'no display can be reached';
  }
  if (/without --no-sandbox/i.test(output)) return 'it does not run as the administrator';
  if (/sandbox/i.test(output)) return 'this system does not let it make its sandbox';
  return signal === null ? `it ended with code ${code}` : `it was ended by ${signal}`;
}
