import type { BrowserWindowConstructorOptions } from 'electron';

export interface WindowFiles {
  readonly preload: string;
  readonly icon: string;
}

/** The page gets no Node, no webviews and no other program's content: everything it may do goes through the preload. */
export function windowOptions(files: WindowFiles, dark: boolean): BrowserWindowConstructorOptions {
  return {
    title: 'Tankside',
    icon: files.icon,
    width: 1440,
    height: 900,
    minWidth: 800,
    minHeight: 600,
    show: false,
    backgroundColor: dark ? '#14181d' : '#f5f6f8',
    webPreferences: {
      preload: files.preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webviewTag: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      navigateOnDragDrop: false,
      // A run's timers, readings and alarm must go on behind other windows.
      backgroundThrottling: false,
      // Its dictionaries would be fetched from a server.
      spellcheck: false,
    },
  };
}
