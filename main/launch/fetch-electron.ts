import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { failure, success, type Result } from '../../core/result.ts';
import { outputTail } from './output-tail.ts';

/**
 * Runs the `electron` package's own install script, which downloads its program (over 100 MB) and unpacks it
 * beside the package.
 *
 * @param packageFolder folder of the `electron` package
 */
export async function fetchElectron(packageFolder: string, limitMs: number): Promise<Result<null>> {
  const child = spawn(process.execPath, [join(packageFolder, 'install.js')], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const said = outputTail(child.stderr);
  return new Promise((settle) => {
    let timedOut = false;
    const timer = setTimeout(() => {
      timedOut = true;
      child.kill('SIGKILL');
    }, limitMs);
    child.on('error', (cause) => {
      clearTimeout(timer);
      settle(notFetched(cause.message));
    });
    child.on('close', (code) => {
      clearTimeout(timer);
      if (code === 0) settle(success(null));
      else if (timedOut) settle(notFetched(`no answer within ${Math.round(limitMs / 1000)} seconds`));
      else settle(notFetched(reason(said())));
    });
  });
}

function notFetched(cause: string): Result<null> {
  return failure(
    'electron-not-fetched',
    `Electron could not be fetched (${cause}).`,
    'Connect to the network and start again for a window of its own.',
  );
}

/** Why, in plain words where the cause is the network; else the first line of what it said. */
export function reason(output: string): string {
  if (/fetch failed|ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH/.test(output)) {
    return 'its download server cannot be reached';
  }
  const first = output.split('\n').find((line) => line.trim() !== '');
  return (first ?? 'no reason given').trim().replace(/\.$/, '');
}
