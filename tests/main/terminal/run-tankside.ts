import { spawnSync } from 'node:child_process';

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Runs the built command as a user would. */
export function runTankside(...args: string[]): Ended {
  const ended = spawnSync(process.execPath, ['dist/main/tankside.js', ...args], {
    encoding: 'utf8',
    maxBuffer: 64 << 20,
  });
  return { code: ended.status, out: ended.stdout, err: ended.stderr };
}
