import { spawnSync } from 'node:child_process';

/** The page as it stands, so that no old build is measured. */
export function buildPage(): void {
  const built = spawnSync('npm', ['run', '-s', 'build:window'], {
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
  });
  if (built.status !== 0) throw new Error(`npm run build:window ended with code ${built.status}`);
}
