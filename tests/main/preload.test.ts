import { EventEmitter } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { runInNewContext } from 'node:vm';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { bridgeChannels } from '../../core/bridge/bridge-channels.ts';
import type { Bridge, FileSource } from '../../core/bridge/bridge.ts';

/** Electron as a sandboxed preload sees it: a line to main, and the way to hand something to the page. */
function standIn() {
  const line = new EventEmitter();
  const asked: { channel: string; payload: unknown[] }[] = [];
  const exposed = new Map<string, unknown>();
  const pathByFile = new Map<unknown, string>();
  let answer: unknown = null;
  return {
    line,
    asked,
    exposed,
    pathByFile,
    answerWith: (value: unknown) => (answer = value),
    electron: {
      contextBridge: { exposeInMainWorld: (name: string, api: unknown) => exposed.set(name, api) },
      ipcRenderer: {
        invoke: async (channel: string, ...payload: unknown[]) => {
          asked.push({ channel, payload: structuredClone(payload) });
          return answer;
        },
        send: (channel: string, ...payload: unknown[]) => asked.push({ channel, payload }),
        on: line.on.bind(line),
        off: line.off.bind(line),
      },
      webUtils: {
        getPathForFile: (file: unknown) => {
          // Electron throws for what is not a File, and gives '' for a File without a path.
          if (!(file instanceof File)) throw new TypeError('Argument must be a File');
          return pathByFile.get(file) ?? '';
        },
      },
    },
  };
}

let stage: ReturnType<typeof standIn>;
let page: EventTarget;
let bridge: Bridge;

beforeEach(async () => {
  stage = standIn();
  page = new EventTarget();
  vi.resetModules();
  vi.doMock('electron', () => stage.electron);
  vi.stubGlobal('window', page);
  await import('../../main/preload.ts');
  bridge = stage.exposed.get('tankside') as Bridge;
});

// The type makes this list complete: a new key of Bridge that is missing here does not compile. Left out is the one
// question that only the browser's own bridge answers: here main sees each job as it is opened.
const bridgeKeys: Record<Exclude<keyof Bridge, 'noteOpened'>, true> = {
  shell: true,
  startupFiles: true,
  onFilesOpened: true,
  onMenuCommand: true,
  chooseFiles: true,
  adoptDropped: true,
  saveJob: true,
  recentJobs: true,
  openRecent: true,
  showWindowState: true,
  serialPorts: true,
  savePdf: true,
};

test('the page gets the Bridge and nothing else', () => {
  expect([...stage.exposed.keys()]).toEqual(['tankside']);
  expect(Object.keys(bridge).sort()).toEqual(Object.keys(bridgeKeys).sort());
  expect(bridge.shell).toBe('electron');
});

test('each question goes over its own channel', async () => {
  const target = { id: 't', name: 'n' };
  const request = { bytes: new Uint8Array([1]), suggestedName: 's', target };
  await bridge.startupFiles();
  await bridge.chooseFiles('job');
  await bridge.saveJob(request);
  await bridge.recentJobs();
  await bridge.openRecent('r');
  await bridge.savePdf?.('p');
  expect(stage.asked).toEqual([
    { channel: bridgeChannels.startupFiles, payload: [] },
    { channel: bridgeChannels.chooseFiles, payload: ['job'] },
    { channel: bridgeChannels.saveJob, payload: [request] },
    { channel: bridgeChannels.recentJobs, payload: [] },
    { channel: bridgeChannels.openRecent, payload: ['r'] },
    { channel: bridgeChannels.savePdf, payload: ['p'] },
  ]);
});

test('files opened from outside reach the listener without the event, until it lets go', () => {
  const heard: unknown[][] = [];
  const stop = bridge.onFilesOpened((...args) => heard.push(args));
  const files = [{ name: 'ring.stl' }];
  stage.line.emit(bridgeChannels.filesOpened, { sender: 'secret' }, files);
  stop();
  stage.line.emit(bridgeChannels.filesOpened, { sender: 'secret' }, files);
  expect(heard).toEqual([[files]]);
});

test('what the menu asks reaches the listener without the event, until it lets go', () => {
  const heard: unknown[][] = [];
  const stop = bridge.onMenuCommand!((...args) => heard.push(args));
  stage.line.emit(bridgeChannels.menuCommand, { sender: 'secret' }, 'undo');
  stop();
  stage.line.emit(bridgeChannels.menuCommand, { sender: 'secret' }, 'redo');
  expect(heard).toEqual([['undo']]);
});

test('dropped files are granted by their path; what has none stays itself, in its place', async () => {
  const onDisk = new File(['A'], 'a.stl');
  const pasted = new File(['BB'], 'b.stl');
  const bare = new Blob(['CCC']);
  const folder = new File([], 'parts');
  const last = new File(['D'], 'd.tankside');
  stage.pathByFile.set(onDisk, '/parts/a.stl').set(folder, '/parts').set(last, '/jobs/d.tankside');
  const granted = (name: string): FileSource => ({
    name,
    byteLength: 1,
    content: { via: 'url', url: `tankside://app/granted/${name}` },
  });
  stage.answerWith([granted('a.stl'), null, granted('d.tankside')]);

  const sources = await bridge.adoptDropped([onDisk, pasted, bare, folder, last]);
  expect(stage.asked).toEqual([
    { channel: bridgeChannels.grantDropped, payload: [['/parts/a.stl', '/parts', '/jobs/d.tankside']] },
  ]);
  expect(sources.map(({ name, byteLength, content }) => [name, byteLength, content.via])).toEqual([
    ['a.stl', 1, 'url'],
    ['b.stl', 2, 'blob'],
    ['pasted', 3, 'blob'],
    ['parts', 0, 'blob'],
    ['d.tankside', 1, 'url'],
  ]);
  const content = sources[1]?.content;
  expect(content?.via === 'blob' ? content.blob : null).toBe(pasted);
});

describe('leaving the page', () => {
  function leaving(): boolean {
    const event = new Event('beforeunload', { cancelable: true });
    page.dispatchEvent(event);
    return !event.defaultPrevented;
  }

  test('is free until there is unsaved work or a run, and again after them', () => {
    expect(leaving()).toBe(true);
    bridge.showWindowState({ title: 'Ring', unsaved: true, runGoesOn: false });
    expect(leaving()).toBe(false);
    bridge.showWindowState({ title: 'Ring', unsaved: false, runGoesOn: true });
    expect(leaving()).toBe(false);
    bridge.showWindowState({ title: 'Ring', unsaved: false, runGoesOn: false });
    expect(leaving()).toBe(true);
    expect(stage.asked.map(({ channel }) => channel)).toEqual([
      bridgeChannels.windowState,
      bridgeChannels.windowState,
      bridgeChannels.windowState,
    ]);
  });
});

// A sandboxed preload has a `require` that knows electron and a few of Node's names (Electron, "Process Sandboxing"),
// and no import, no Node globals.
test('what is built runs where only electron can be required', () => {
  const code = readFileSync(join(import.meta.dirname, '../../dist/main/preload.cjs'), 'utf8');
  const required: string[] = [];
  runInNewContext(code, {
    require: (name: string) => {
      required.push(name);
      if (name !== 'electron') throw new Error(`a sandboxed preload cannot require ${name}`);
      return stage.electron;
    },
    window: page,
    exports: {},
    module: { exports: {} },
  });
  expect(required).toEqual(['electron']);
  expect(Object.keys(stage.exposed.get('tankside') as object).sort()).toEqual(Object.keys(bridgeKeys).sort());
});
