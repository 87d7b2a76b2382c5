import { EventEmitter } from 'node:events';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { bridgeChannels } from '../../core/bridge/bridge-channels.ts';
import type { FileSource } from '../../core/bridge/bridge.ts';
import { ownFrame, preventable, StandInContents, StandInIpc, StandInSession } from './electron-stand-in.ts';
import { temporaryFolder } from './temporary-folder.ts';

class StandInWindow extends EventEmitter {
  readonly webContents = new StandInContents();
  readonly options: Electron.BrowserWindowConstructorOptions;
  url = '';
  title = '';
  edited = false;
  shown = false;
  focused = 0;

  constructor(options: Electron.BrowserWindowConstructorOptions) {
    super();
    this.options = options;
    windows.push(this);
    app.emit('web-contents-created', {}, this.webContents);
  }
  async loadURL(url: string): Promise<void> {
    this.url = url;
  }
  show(): void {
    this.shown = true;
  }
  focus(): void {
    this.focused++;
  }
  isMinimized(): boolean {
    return false;
  }
  setTitle(title: string): void {
    this.title = title;
  }
  setDocumentEdited(edited: boolean): void {
    this.edited = edited;
  }
}

let windows: StandInWindow[] = [];
let app = new EventEmitter();

/** Starts the main process in a stand-in Electron. `args` are the program's own arguments. */
async function started({ args = [] as string[], firstInstance = true } = {}) {
  const folder = temporaryFolder();
  mkdirSync(join(folder, 'dist', 'renderer'), { recursive: true });
  writeFileSync(join(folder, 'dist', 'renderer', 'index.html'), '<!doctype html><title>Tankside</title>');
  for (const name of ['ring.stl', 'plate.obj', 'old.tankside']) writeFileSync(join(folder, name), name);

  const ipc = new StandInIpc();
  const session = new StandInSession();
  const calls: string[] = [];
  const errors: string[] = [];
  let handedOver: unknown = null;
  let handleRequest: ((request: Request) => Promise<Response>) | null = null;
  let ready = false;
  windows = [];
  app = Object.assign(new EventEmitter(), {
    isPackaged: true,
    getAppPath: () => folder,
    getPath: () => join(folder, 'user-data'),
    getLocaleCountryCode: () => 'DE',
    requestSingleInstanceLock: (data: unknown) => {
      handedOver = data;
      return firstInstance;
    },
    quit: () => calls.push('quit'),
    isReady: () => ready,
    whenReady: async () => {
      ready = true;
      calls.push('ready');
    },
  });
  vi.resetModules();
  vi.doMock('electron', () => ({
    app,
    BrowserWindow: StandInWindow,
    dialog: { showErrorBox: (_title: string, text: string) => errors.push(text) },
    ipcMain: ipc,
    Menu: {
      buildFromTemplate: (template: unknown) => template,
      setApplicationMenu: () => calls.push('menu'),
    },
    nativeTheme: { shouldUseDarkColors: false },
    powerSaveBlocker: {
      start: (kind: string) => {
        calls.push(`awake ${kind}`);
        return 7;
      },
      stop: (id: number) => calls.push(`awake no more ${id}`),
    },
    protocol: {
      registerSchemesAsPrivileged: (schemes: { scheme: string }[]) =>
        calls.push(`scheme ${schemes[0]?.scheme}`),
      handle: (scheme: string, handler: typeof handleRequest) => {
        calls.push(`handle ${scheme}`);
        handleRequest = handler;
      },
    },
    session: { defaultSession: session },
  }));
  const argv = process.argv;
  process.argv = ['/opt/tankside', ...args.map((name) => (name.startsWith('-') ? name : join(folder, name)))];
  try {
    await import('../../main/main.ts');
  } finally {
    process.argv = argv;
  }
  if (firstInstance) await vi.waitFor(() => expect(windows.length).toBe(1));
  const read = async (url: string): Promise<string> => {
    if (!handleRequest) throw new Error('the scheme is not handled');
    return (await handleRequest(new Request(url))).text();
  };
  const startup = () => ipc.invoke(bridgeChannels.startupFiles, ownFrame) as Promise<FileSource[]>;
  return { folder, ipc, session, calls, errors, handedOver: () => handedOver, read, startup };
}

const names = (files: readonly FileSource[]): string[] => files.map((file) => file.name);

function onlyWindow(): StandInWindow {
  const [window] = windows;
  if (!window || windows.length !== 1) throw new Error(`${windows.length} windows`);
  return window;
}

test('opens one sandboxed window on its own page, shown when it is painted', async () => {
  const { calls, read, session, folder } = await started();
  const window = onlyWindow();
  expect(window.url).toBe('tankside://app/index.html');
  expect(await read(window.url)).toContain('<title>Tankside</title>');
  expect(window.options.webPreferences).toMatchObject({
    sandbox: true,
    contextIsolation: true,
    preload: join(folder, 'dist', 'main', 'preload.cjs'),
  });
  expect(window.shown).toBe(false);
  window.emit('ready-to-show');
  expect(window.shown).toBe(true);
  // Electron takes privileged schemes before it is ready only.
  expect(calls.indexOf('scheme tankside')).toBeLessThan(calls.indexOf('ready'));
  expect(session.checkPermission && session.requestPermission && session.devicePermission).toBeTruthy();
  expect(session.beforeRequest).toBeTruthy();
  const away = preventable('https://example.com/');
  window.webContents.emit('will-navigate', away);
  expect(away.prevented).toBe(true);
});

test('files on the command line are there for the page once; a missing one is said', async () => {
  const { startup, read, errors } = await started({ args: ['--switch', 'ring.stl', 'gone.stl'] });
  const files = await startup();
  expect(names(files)).toEqual(['ring.stl']);
  const content = files[0]?.content;
  expect(await read(content?.via === 'url' ? content.url : '')).toBe('ring.stl');
  expect(await startup()).toEqual([]);
  expect(errors.join()).toContain('gone.stl');
});

describe('one program only', () => {
  test('a second start hands its files over and goes', async () => {
    const { calls, handedOver, folder, ipc } = await started({ args: ['ring.stl'], firstInstance: false });
    expect(handedOver()).toEqual({ files: [join(folder, 'ring.stl')] });
    expect(calls).toContain('quit');
    expect(windows).toEqual([]);
    expect(ipc.handlers.size).toBe(0);
  });

  test('the first shows itself and sends them to its page', async () => {
    const { folder, startup } = await started();
    await startup();
    const window = onlyWindow();
    app.emit('second-instance', {}, [], folder, { files: [join(folder, 'plate.obj')] });
    await vi.waitFor(() => expect(window.focused).toBe(1));
    const [message] = window.webContents.sent;
    expect(message?.channel).toBe(bridgeChannels.filesOpened);
    expect(names(message?.payload[0] as FileSource[])).toEqual(['plate.obj']);
  });
});

test("a file opened by macOS's file manager, before and after its window is closed", async () => {
  const { folder, startup, ipc } = await started();
  await startup();
  const first = onlyWindow();
  const event = preventable();
  app.emit('open-file', event, join(folder, 'old.tankside'));
  expect(event.prevented).toBe(true);
  await vi.waitFor(() => expect(first.webContents.sent.length).toBe(1));
  const [job] = first.webContents.sent[0]?.payload[0] as FileSource[];
  expect(job?.target?.name).toBe('old.tankside');
  expect(await ipc.invoke(bridgeChannels.recentJobs, ownFrame)).toMatchObject([{ name: 'old.tankside' }]);

  first.emit('closed');
  app.emit('open-file', preventable(), join(folder, 'ring.stl'));
  await vi.waitFor(() => expect(windows.length).toBe(2));
  expect(names(await startup())).toEqual(['ring.stl']);
  expect(first.webContents.sent.length).toBe(1);
});

test('the computer stays awake while a run goes on, and no longer than its window', async () => {
  const { ipc, calls } = await started();
  const tell = (runGoesOn: boolean): void =>
    ipc.send(bridgeChannels.windowState, ownFrame, { title: 'Ring', unsaved: false, runGoesOn });
  const awake = (): string[] => calls.filter((call) => call.startsWith('awake'));
  tell(false);
  expect(awake()).toEqual([]);
  tell(true);
  tell(true);
  expect(awake()).toEqual(['awake prevent-app-suspension']);
  tell(false);
  expect(awake()).toEqual(['awake prevent-app-suspension', 'awake no more 7']);
  tell(true);
  onlyWindow().emit('closed');
  expect(awake().slice(2)).toEqual(['awake prevent-app-suspension', 'awake no more 7']);
});

test('the title carries the unsaved mark, and the page cannot set it another way', async () => {
  const { ipc } = await started();
  const window = onlyWindow();
  ipc.send(bridgeChannels.windowState, ownFrame, { title: 'Ring', unsaved: true, runGoesOn: false });
  expect(window).toMatchObject({ title: '• Ring', edited: true });
  ipc.send(bridgeChannels.windowState, ownFrame, { title: 'Ring', unsaved: false, runGoesOn: false });
  expect(window).toMatchObject({ title: 'Ring', edited: false });
  const event = preventable();
  window.emit('page-title-updated', event);
  expect(event.prevented).toBe(true);
});
