import { spawn } from 'node:child_process';
import { setTimeout as delay } from 'node:timers/promises';

/** True where a window could be seen: not over a plain remote shell, not on a machine without a screen. */
export function hasDisplay(platform: NodeJS.Platform, env: NodeJS.ProcessEnv): boolean {
  if (platform === 'win32') return true;
  if (platform === 'darwin') return !env['SSH_CONNECTION'];
  return Boolean(env['DISPLAY'] || env['WAYLAND_DISPLAY']);
}

/** The system's own way to show an address in the user's browser. */
export function browserCommand(
  platform: NodeJS.Platform,
  address: string,
): { readonly command: string; readonly args: readonly string[] } {
  if (platform === 'win32') return { command: 'rundll32', args: ['url.dll,FileProtocolHandler', address] };
  if (platform === 'darwin') return { command: 'open', args: [address] };
  return { command: 'xdg-open', args: [address] };
}

/** How long a system may take to say that it has no browser; one that says nothing has opened it. */
const REFUSED_WITHIN_MS = 2000;

/** False when the system has no browser to open, or no command to open it. */
export async function openBrowser(platform: NodeJS.Platform, address: string): Promise<boolean> {
  const { command, args } = browserCommand(platform, address);
  const child = spawn(command, args, { stdio: 'ignore', detached: true });
  child.unref();
  const ended = new Promise<boolean>((settle) => {
    child.on('error', () => settle(false));
    child.on('exit', (code) => settle(code === 0));
  });
  return Promise.race([ended, delay(REFUSED_WITHIN_MS, true)]);
}
