/**
 * The only code that sees both the page and Electron. It hands the page the Bridge and nothing else: no channel
 * names, no event objects, no paths. Built to one CommonJS file, as a sandboxed preload must be.
 */
import { contextBridge, ipcRenderer, webUtils } from 'electron';
import { bridgeChannels } from '../core/bridge/bridge-channels.ts';
import type { BlobLike, Bridge, FileSource, FoundSerialPort, MenuCommand } from '../core/bridge/bridge.ts';

let wouldBeMissed = false;
window.addEventListener('beforeunload', (event) => {
  // Main then asks the user.
  if (wouldBeMissed) event.preventDefault();
});

const bridge: Bridge = {
  shell: 'electron',

  startupFiles: () => ipcRenderer.invoke(bridgeChannels.startupFiles),

  onFilesOpened: (listener: (files: readonly FileSource[]) => void) =>
    hearFromMain(bridgeChannels.filesOpened, listener),
  onMenuCommand: (listener: (command: MenuCommand) => void) =>
    hearFromMain(bridgeChannels.menuCommand, listener),

  chooseFiles: (kind) => ipcRenderer.invoke(bridgeChannels.chooseFiles, kind),

  async adoptDropped(blobs) {
    const paths = blobs.map(pathOf);
    const granted: (FileSource | null)[] = await ipcRenderer.invoke(
      bridgeChannels.grantDropped,
      paths.filter((path) => path !== ''),
    );
    let next = 0;
    // What has no path (pasted) or is no plain file stays what it was: reading it tells the page more.
    return blobs.map((blob, i) => {
      const source = paths[i] === '' ? null : granted[next++];
      return source ?? withoutPath(blob);
    });
  },

  saveJob: (request) => ipcRenderer.invoke(bridgeChannels.saveJob, request),
  recentJobs: () => ipcRenderer.invoke(bridgeChannels.recentJobs),
  openRecent: (id) => ipcRenderer.invoke(bridgeChannels.openRecent, id),

  showWindowState(state) {
    wouldBeMissed = state.unsaved || state.runGoesOn;
    ipcRenderer.send(bridgeChannels.windowState, state);
  },

  serialPorts: {
    onFound: (listener: (ports: readonly FoundSerialPort[] | null) => void) =>
      hearFromMain(bridgeChannels.serialPortsFound, listener),
    choose: (id) => ipcRenderer.send(bridgeChannels.chooseSerialPort, id),
  },

  savePdf: (suggestedName) => ipcRenderer.invoke(bridgeChannels.savePdf, suggestedName),
};

contextBridge.exposeInMainWorld('tankside', bridge);

/** The page gets what was sent, never the event that brought it. Returns the unsubscriber. */
function hearFromMain<T>(channel: string, listener: (sent: T) => void): () => void {
  const hear = (_event: unknown, sent: T): void => listener(sent);
  ipcRenderer.on(channel, hear);
  return () => {
    ipcRenderer.off(channel, hear);
  };
}

function pathOf(blob: BlobLike): string {
  try {
    return webUtils.getPathForFile(blob as unknown as File);
  } catch {
    // A Blob that is not a File, as the clipboard gives.
    return '';
  }
}

function withoutPath(blob: BlobLike): FileSource {
  const { name } = blob as { readonly name?: unknown };
  return {
    name: typeof name === 'string' && name !== '' ? name : 'pasted',
    byteLength: blob.size,
    content: { via: 'blob', blob },
  };
}
