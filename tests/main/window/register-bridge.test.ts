import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { bridgeChannels } from '../../../core/bridge/bridge-channels.ts';
import type { FileSource, RecentJob, SaveTarget } from '../../../core/bridge/bridge.ts';
import type { Result } from '../../../core/result.ts';
import { Grants } from '../../../main/files/grants.ts';
import { RecentJobs } from '../../../main/files/recent-jobs.ts';
import { saveAtomically } from '../../../main/files/save-atomically.ts';
import { appSchemeHandler } from '../../../main/window/app-scheme.ts';
import { BridgeService } from '../../../main/window/bridge-service.ts';
import { OpenedFiles } from '../../../main/window/opened-files.ts';
import { registerBridge } from '../../../main/window/register-bridge.ts';
import { ownFrame, StandInIpc, type StandInFrame } from '../electron-stand-in.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const bytes = new Uint8Array([80, 75, 3, 4, 1, 2, 3]);

/** The whole of main's half, on a real folder; only the dialogs and the printing are played. */
function shell() {
  const folder = temporaryFolder();
  const page = join(folder, 'renderer');
  mkdirSync(page);
  const grants = new Grants();
  const ipc = new StandInIpc();
  const states: unknown[] = [];
  const played = {
    chosen: [] as string[],
    target: null as string | null,
    pdf: async (): Promise<Uint8Array> => new Uint8Array([37, 80, 68, 70]),
  };
  const service = new BridgeService({
    grants,
    recent: new RecentJobs(join(folder, 'recent.json'), () => 1_700_000_000_000),
    dialogs: { chooseFiles: async () => played.chosen, chooseTarget: async () => played.target },
    opened: new OpenedFiles(() => undefined),
    save: saveAtomically,
    printToPdf: () => played.pdf(),
    showWindowState: (state) => states.push(state),
  });
  registerBridge(ipc as unknown as Parameters<typeof registerBridge>[0], service);
  const read = appSchemeHandler({ folder: page, grants });
  const file = (name: string, text = 'solid'): string => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  const ask = <T>(channel: string, ...payload: unknown[]) =>
    ipc.invoke(channel, ownFrame, ...payload) as Promise<T>;
  const textOf = async (source: FileSource | undefined): Promise<string> => {
    if (source?.content.via !== 'url') throw new Error('read by address');
    return (await read(new Request(source.content.url))).text();
  };
  return { folder, ipc, played, states, file, ask, textOf };
}

describe('files', () => {
  test('a chosen file can be read at its address, its neighbour cannot', async () => {
    const { played, file, ask, textOf } = shell();
    file('neighbour.stl', 'other');
    played.chosen = [file('ring.stl', 'solid ring')];
    const [source] = await ask<FileSource[]>(bridgeChannels.chooseFiles, 'model');
    expect(source).toMatchObject({ name: 'ring.stl', byteLength: 10 });
    expect(await textOf(source)).toBe('solid ring');
    if (source?.content.via !== 'url') throw new Error('read by address');
    const other = source.content.url.replace(/[^/]+$/, 'neighbour.stl');
    expect(await textOf({ ...source, content: { via: 'url', url: other } })).not.toContain('other');
  });

  test('dropped files are granted in their order, folders are not', async () => {
    const { folder, file, ask, textOf } = shell();
    mkdirSync(join(folder, 'parts'));
    const paths = [file('a.stl', 'A'), join(folder, 'parts'), join(folder, 'gone.stl'), file('b.obj', 'B')];
    const granted = await ask<(FileSource | null)[]>(bridgeChannels.grantDropped, paths);
    expect(granted.map((source) => source?.name ?? null)).toEqual(['a.stl', null, null, 'b.obj']);
    expect(await textOf(granted[3] ?? undefined)).toBe('B');
  });
});

describe('saving', () => {
  test('a new job is written where the user said, and back to the same file after that', async () => {
    const { folder, played, ask, textOf } = shell();
    const path = join(folder, 'ring.tankside');
    played.target = path;
    const first = await ask<Result<SaveTarget>>(bridgeChannels.saveJob, {
      bytes,
      suggestedName: 'ring',
      target: null,
    });
    if (!first.ok) throw new Error(first.error.message);
    expect(first.value.name).toBe('ring.tankside');
    expect(new Uint8Array(readFileSync(path))).toEqual(bytes);

    played.target = join(folder, 'not-asked.tankside');
    const more = new Uint8Array([...bytes, 9]);
    await ask(bridgeChannels.saveJob, { bytes: more, suggestedName: 'ring', target: first.value });
    expect(new Uint8Array(readFileSync(path))).toEqual(more);

    const [recent] = await ask<RecentJob[]>(bridgeChannels.recentJobs);
    expect(recent?.name).toBe('ring.tankside');
    const again = await ask<Result<FileSource>>(bridgeChannels.openRecent, recent?.id);
    if (!again.ok) throw new Error(again.error.message);
    expect(again.value.target).toEqual(first.value);
    expect((await textOf(again.value)).length).toBe(more.length);
  });

  test('a cancelled dialog saves nothing and is no failure', async () => {
    const { ask } = shell();
    const saved = await ask(bridgeChannels.saveJob, { bytes, suggestedName: 'ring', target: null });
    expect(saved).toEqual({ ok: true, value: null });
  });

  test('neither a model nor an invented target can be written', async () => {
    const { played, file, ask } = shell();
    const model = file('ring.stl', 'the model');
    played.chosen = [model];
    const [source] = await ask<FileSource[]>(bridgeChannels.chooseFiles, 'model');
    if (source?.content.via !== 'url') throw new Error('read by address');
    const token = source.content.url.split('/').at(-1);
    for (const id of [token, 'pdf', model]) {
      const saved = await ask(bridgeChannels.saveJob, {
        bytes,
        suggestedName: 'x',
        target: { id, name: 'ring.stl' },
      });
      expect(saved).toMatchObject({ ok: false, error: { code: 'target-unknown' } });
    }
    expect(readFileSync(model, 'utf8')).toBe('the model');
  });

  test('a recent job that is gone says so', async () => {
    const { folder, played, ask } = shell();
    played.target = join(folder, 'ring.tankside');
    await ask(bridgeChannels.saveJob, { bytes, suggestedName: 'ring', target: null });
    const [recent] = await ask<RecentJob[]>(bridgeChannels.recentJobs);
    rmSync(played.target);
    expect(await ask(bridgeChannels.openRecent, recent?.id)).toMatchObject({
      ok: false,
      error: { code: 'file-missing' },
    });
    expect(await ask(bridgeChannels.openRecent, 'invented')).toMatchObject({
      ok: false,
      error: { code: 'recent-unknown' },
    });
  });

  test('a sheet becomes a PDF, and a failed drawing touches no file', async () => {
    const { folder, played, ask } = shell();
    const path = join(folder, 'sheet.pdf');
    played.target = path;
    expect(await ask(bridgeChannels.savePdf, 'sheet')).toMatchObject({
      ok: true,
      value: { name: 'sheet.pdf' },
    });
    expect(readFileSync(path, 'latin1')).toBe('%PDF');
    played.pdf = () => Promise.reject(new Error('no paper'));
    expect(await ask(bridgeChannels.savePdf, 'sheet')).toMatchObject({
      ok: false,
      error: { code: 'pdf-failed' },
    });
    expect(readFileSync(path, 'latin1')).toBe('%PDF');
  });
});

describe('strangers', () => {
  const strangers: [string, StandInFrame | null][] = [
    ['a frame that is gone', null],
    ['another site', { url: 'https://example.com/', parent: null }],
    ['a look-alike origin', { url: 'tankside://app.evil/index.html', parent: null }],
    ['an empty page', { url: 'about:blank', parent: null }],
    ['a frame inside the page', { url: 'tankside://app/index.html', parent: ownFrame }],
  ];

  test.each(strangers)('%s reaches no channel', async (_who, frame) => {
    const { ipc, file, states } = shell();
    const good: Record<string, unknown[]> = {
      [bridgeChannels.chooseFiles]: ['model'],
      [bridgeChannels.grantDropped]: [[file('ring.stl')]],
      [bridgeChannels.saveJob]: [{ bytes, suggestedName: 'x', target: null }],
      [bridgeChannels.openRecent]: ['x'],
      [bridgeChannels.savePdf]: ['x'],
    };
    for (const channel of ipc.handlers.keys()) {
      await expect(async () => ipc.invoke(channel, frame, ...(good[channel] ?? []))).rejects.toThrow(
        /sender/,
      );
    }
    expect(() =>
      ipc.send(bridgeChannels.windowState, frame, { title: 'x', unsaved: false, runGoesOn: false }),
    ).toThrow(/sender/);
    expect(states).toEqual([]);
  });
});

test.each<[keyof typeof bridgeChannels, unknown[]]>([
  ['startupFiles', ['more']],
  ['recentJobs', [{}]],
  ['chooseFiles', []],
  ['chooseFiles', ['folder']],
  ['chooseFiles', ['model', 'job']],
  ['grantDropped', ['/etc/passwd']],
  ['grantDropped', [[3]]],
  ['grantDropped', [['']]],
  ['grantDropped', [Array.from({ length: 1001 }, () => '/a.stl')]],
  ['saveJob', [{ bytes: 'text', suggestedName: 'x', target: null }]],
  ['saveJob', [{ bytes: [1, 2], suggestedName: 'x', target: null }]],
  ['saveJob', [{ bytes: new Uint8Array(0), suggestedName: 'x', target: null }]],
  ['saveJob', [{ bytes, suggestedName: '', target: null }]],
  ['saveJob', [{ bytes, suggestedName: 'x' }]],
  ['saveJob', [{ bytes, suggestedName: 'x', target: '/etc/passwd' }]],
  ['saveJob', [{ bytes, suggestedName: 'x', target: { id: 'x', name: 'x', path: '/etc/passwd' } }]],
  ['openRecent', [{ id: 'x' }]],
  ['savePdf', [null]],
])('%s refuses another shape: %j', async (channel, payload) => {
  const { ipc } = shell();
  await expect(async () => ipc.invoke(bridgeChannels[channel], ownFrame, ...payload)).rejects.toThrow(
    RangeError,
  );
});

test('the window shows the state it is told, in the agreed shape alone', () => {
  const { ipc, states } = shell();
  ipc.send(bridgeChannels.windowState, ownFrame, { title: 'Ring', unsaved: true, runGoesOn: false });
  for (const odd of [
    { title: 'Ring' },
    { title: 3, unsaved: true, runGoesOn: false },
    { title: 'x', unsaved: true },
    { title: 'x', unsaved: 'no', runGoesOn: false },
    { title: 'x'.repeat(501), unsaved: true, runGoesOn: false },
    { title: 'x', unsaved: true, runGoesOn: false, more: 1 },
  ]) {
    expect(() => ipc.send(bridgeChannels.windowState, ownFrame, odd)).toThrow(RangeError);
  }
  expect(states).toEqual([{ title: 'Ring', unsaved: true, runGoesOn: false }]);
});
