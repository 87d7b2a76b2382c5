import type { Result } from '../../core/result.ts';
import type { ElectronRun } from './run-electron.ts';

/** Everything the launcher does to the world, so that its decisions can be tested without a window or a network. */
export interface LaunchEffects {
  hasDisplay(): boolean;
  findElectron(): string | null;
  fetchElectron(): Promise<Result<null>>;
  runElectron(binary: string): Promise<ElectronRun>;
  /** Serves the page until the program is stopped; gives its address. */
  servePage(): Promise<Result<string>>;
  openBrowser(address: string): Promise<boolean>;
  say(line: string): void;
}

export interface LaunchWishes {
  readonly browser: boolean;
  readonly openBrowser: boolean;
}

export type LaunchOutcome =
  | { readonly shell: 'electron'; readonly exitCode: number }
  | { readonly shell: 'browser'; readonly address: string }
  | { readonly shell: 'none' };

/** Electron where it can run, else the same page for a browser; says which, and why. */
export async function launch(wishes: LaunchWishes, effects: LaunchEffects): Promise<LaunchOutcome> {
  if (!wishes.browser) {
    const exitCode = await tryElectron(effects);
    if (exitCode !== null) return { shell: 'electron', exitCode };
  }
  const served = await effects.servePage();
  if (!served.ok) {
    effects.say(`${served.error.message} ${served.error.remedy}`);
    return { shell: 'none' };
  }
  const address = served.value;
  effects.say(`Tankside is at ${address}`);
  const opened = wishes.openBrowser && effects.hasDisplay() && (await effects.openBrowser(address));
  effects.say(
    opened
      ? 'It was opened in your browser. Ctrl+C stops it.'
      : 'Open that address in a browser on this machine. Ctrl+C stops it.',
  );
  return { shell: 'browser', address };
}

/** The exit code of a run, or null when the browser must do. */
async function tryElectron(effects: LaunchEffects): Promise<number | null> {
  if (!effects.hasDisplay()) {
    effects.say('There is no display here for a window, so the page is served for a browser.');
    return null;
  }
  let binary = effects.findElectron();
  if (binary === null) {
    effects.say('Fetching Electron for the window (over 100 MB, once)…');
    const fetched = await effects.fetchElectron();
    if (!fetched.ok) {
      effects.say(`${fetched.error.message} The page is served for a browser instead.`);
      effects.say(fetched.error.remedy);
      return null;
    }
    binary = effects.findElectron();
    if (binary === null) {
      effects.say(
        'Electron was fetched but its program is not there. The page is served for a browser instead.',
      );
      return null;
    }
  }
  const run = await effects.runElectron(binary);
  if (run.started) return run.exitCode;
  effects.say(`Electron is here but cannot start: ${run.cause}. The page is served for a browser instead.`);
  return null;
}
