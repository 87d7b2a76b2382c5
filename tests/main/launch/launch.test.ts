import { describe, expect, test } from 'vitest';
import { failure, success, type Result } from '../../../core/result.ts';
import { launch, type LaunchEffects, type LaunchWishes } from '../../../main/launch/launch.ts';
import type { ElectronRun } from '../../../main/launch/run-electron.ts';

interface World {
  readonly display: boolean;
  readonly electron: 'there' | 'fetched' | 'fetched-but-missing' | 'not-fetched';
  readonly run: ElectronRun;
  readonly served: Result<string>;
  readonly browserOpens: boolean;
}

const good: World = {
  display: true,
  electron: 'there',
  run: { started: true, exitCode: 0 },
  served: success('http://127.0.0.1:8123/'),
  browserOpens: true,
};

/** Launches in such a world; `did` lists what was done to it, in order. */
async function launchIn(change: Partial<World>, wishes: Partial<LaunchWishes> = {}) {
  const world = { ...good, ...change };
  const did: string[] = [];
  const said: string[] = [];
  let fetched = false;
  const effects: LaunchEffects = {
    hasDisplay: () => world.display,
    findElectron: () =>
      world.electron === 'there' || (fetched && world.electron === 'fetched') ? '/electron' : null,
    fetchElectron: async () => {
      did.push('fetch');
      fetched = true;
      return world.electron === 'not-fetched'
        ? failure('electron-not-fetched', 'Electron could not be fetched (why).', 'Connect to the network.')
        : success(null);
    },
    runElectron: async (binary) => {
      did.push(`run ${binary}`);
      return world.run;
    },
    servePage: async () => {
      did.push('serve');
      return world.served;
    },
    openBrowser: async (address) => {
      did.push(`open ${address}`);
      return world.browserOpens;
    },
    say: (line) => said.push(line),
  };
  const outcome = await launch({ browser: false, openBrowser: true, ...wishes }, effects);
  return { outcome, did, said: said.join('\n') };
}

const inBrowser = { shell: 'browser', address: 'http://127.0.0.1:8123/' };
const serveAndOpen = ['serve', 'open http://127.0.0.1:8123/'];

describe('with a display', () => {
  test('Electron that is there runs, and nothing is served', async () => {
    const { outcome, did, said } = await launchIn({ run: { started: true, exitCode: 5 } });
    expect(outcome).toEqual({ shell: 'electron', exitCode: 5 });
    expect(did).toEqual(['run /electron']);
    expect(said).toBe('');
  });

  test('Electron that is not there is fetched, then runs', async () => {
    const { outcome, did, said } = await launchIn({ electron: 'fetched' });
    expect(outcome).toEqual({ shell: 'electron', exitCode: 0 });
    expect(did).toEqual(['fetch', 'run /electron']);
    expect(said).toContain('Fetching Electron');
  });

  test('Electron that cannot be fetched: it says so and opens the browser', async () => {
    const { outcome, did, said } = await launchIn({ electron: 'not-fetched' });
    expect(outcome).toEqual(inBrowser);
    expect(did).toEqual(['fetch', ...serveAndOpen]);
    expect(said).toContain('could not be fetched');
    expect(said).toContain('http://127.0.0.1:8123/');
  });

  test('Electron that was fetched but is not where it should be', async () => {
    const { outcome, did, said } = await launchIn({ electron: 'fetched-but-missing' });
    expect(outcome).toEqual(inBrowser);
    expect(did).toEqual(['fetch', ...serveAndOpen]);
    expect(said).toContain('its program is not there');
  });

  test('Electron that dies at its start: it says why and opens the browser', async () => {
    const { outcome, did, said } = await launchIn({
      run: { started: false, cause: 'this system lacks the library libnss3.so' },
    });
    expect(outcome).toEqual(inBrowser);
    expect(did).toEqual(['run /electron', ...serveAndOpen]);
    expect(said).toContain('cannot start: this system lacks the library libnss3.so');
  });

  test('a system without a browser gets the address', async () => {
    const { outcome, said } = await launchIn({ electron: 'not-fetched', browserOpens: false });
    expect(outcome).toEqual(inBrowser);
    expect(said).toContain('Open that address in a browser');
    expect(said).not.toContain('It was opened');
  });

  test('--browser leaves Electron alone, --no-open the browser', async () => {
    expect((await launchIn({}, { browser: true })).did).toEqual(serveAndOpen);
    const quiet = await launchIn({}, { browser: true, openBrowser: false });
    expect(quiet.did).toEqual(['serve']);
    expect(quiet.said).toContain('http://127.0.0.1:8123/');
  });
});

test('without a display nothing is fetched, run or opened: the address is printed', async () => {
  const { outcome, did, said } = await launchIn({ display: false, electron: 'not-fetched' });
  expect(outcome).toEqual(inBrowser);
  expect(did).toEqual(['serve']);
  expect(said).toContain('no display');
  expect(said).toContain('Tankside is at http://127.0.0.1:8123/');
});

test('a page that cannot be served is said, with what to do', async () => {
  const { outcome, did, said } = await launchIn(
    { served: failure('port-not-free', 'Port 80 is taken.', 'Leave --port away.') },
    { browser: true },
  );
  expect(outcome).toEqual({ shell: 'none' });
  expect(did).toEqual(['serve']);
  expect(said).toContain('Port 80 is taken. Leave --port away.');
});
