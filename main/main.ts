/**
 * Electron's main process: puts its parts together. Everything is decided in main/window, main/files and main/page,
 * where it can be tested without Electron.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import {
  app,
  BrowserWindow,
  dialog,
  ipcMain,
  Menu,
  nativeTheme,
  powerSaveBlocker,
  protocol,
  session,
} from 'electron';
import { bridgeChannels } from '../core/bridge/bridge-channels.ts';
import type { WindowState } from '../core/bridge/bridge.ts';
import { Grants } from './files/grants.ts';
import { namedFiles } from './files/named-files.ts';
import { RecentJobs } from './files/recent-jobs.ts';
import { saveAtomically } from './files/save-atomically.ts';
import { reportWindowShown } from './launch/window-shown.ts';
import { appMenu } from './window/app-menu.ts';
import { appPage, appScheme, appSchemeHandler } from './window/app-scheme.ts';
import { askBeforeUnload } from './window/ask-before-unload.ts';
import { BridgeService } from './window/bridge-service.ts';
import { fileDialogs } from './window/file-dialogs.ts';
import { guardContents, refuseRemoteContent } from './window/guard-contents.ts';
import { OpenedFiles } from './window/opened-files.ts';
import { limitPermissions } from './window/permissions.ts';
import { registerBridge, registerSerialChoice } from './window/register-bridge.ts';
import { letPageChoosePort } from './window/serial-ports.ts';
import { stayAwake } from './window/stay-awake.ts';
import { secondStartFiles } from './window/second-start.ts';
import { windowOptions } from './window/window-options.ts';

const pageFolder = join(app.getAppPath(), 'dist', 'renderer');
const ownArguments = process.argv.slice(app.isPackaged ? 1 : 2);
const firstFiles = namedFiles(ownArguments, process.cwd());

protocol.registerSchemesAsPrivileged([appScheme]);
if (app.requestSingleInstanceLock({ files: [...firstFiles] })) start();
else app.quit();

function start(): void {
  let window: BrowserWindow | null = null;
  const openWindow = (): BrowserWindow => {
    if (!window) throw new Error('the window is closed');
    return window;
  };
  let shown: WindowState = { title: '', unsaved: false, runGoesOn: false };
  const keepAwake = stayAwake(powerSaveBlocker);
  const grants = new Grants();
  const opened = new OpenedFiles((files) => window?.webContents.send(bridgeChannels.filesOpened, files));
  const service = new BridgeService({
    grants,
    opened,
    recent: new RecentJobs(join(app.getPath('userData'), 'recent.json'), Date.now),
    dialogs: fileDialogs(dialog, existsSync, openWindow),
    save: saveAtomically,
    printToPdf: () =>
      openWindow().webContents.printToPDF({
        printBackground: true,
        preferCSSPageSize: true,
        pageSize: ['US', 'CA', 'MX'].includes(app.getLocaleCountryCode()) ? 'Letter' : 'A4',
      }),
    showWindowState: (state) => {
      const { title, unsaved } = state;
      shown = state;
      keepAwake(state.runGoesOn);
      window?.setTitle(unsaved ? `• ${title}` : title);
      window?.setDocumentEdited(unsaved);
    },
  });

  const openNamed = async (paths: readonly string[]): Promise<void> => {
    const answers = await Promise.all(paths.map(service.describe));
    opened.open(answers.flatMap((answer) => (answer.ok ? [answer.value] : [])));
    const failures = answers.flatMap((answer) => (answer.ok ? [] : [answer.error]));
    if (failures.length > 0) {
      dialog.showErrorBox(
        'Some files could not be opened',
        failures.map(({ message, remedy }) => `${message} ${remedy}`).join('\n'),
      );
    }
  };

  const showWindow = (): void => {
    if (window) {
      if (window.isMinimized()) window.restore();
      window.focus();
      return;
    }
    const made = new BrowserWindow(
      windowOptions(
        {
          preload: join(app.getAppPath(), 'dist', 'main', 'preload.cjs'),
          icon: join(pageFolder, 'icon.png'),
        },
        nativeTheme.shouldUseDarkColors,
      ),
    );
    window = made;
    askBeforeUnload(made, dialog, () => shown);
    made.on('page-title-updated', (event) => event.preventDefault());
    made.once('ready-to-show', () => {
      made.show();
      reportWindowShown();
    });
    made.on('closed', () => {
      window = null;
      keepAwake(false);
      opened.pageGone();
    });
    made.webContents.on('render-process-gone', (_event, { reason }) => {
      if (reason === 'clean-exit') return;
      const choice = dialog.showMessageBoxSync(made, {
        type: 'error',
        message: `The page stopped working (${reason}).`,
        detail: 'Load it again: the work in progress was kept up to a moment ago.',
        buttons: ['Load again', 'Close'],
        cancelId: 1,
      });
      if (choice === 0) made.webContents.reload();
      else made.destroy();
    });
    void made.loadURL(appPage);
  };

  app.on('web-contents-created', (_event, contents) => guardContents(contents));
  // The files first: a window made for them finds them waiting.
  const openFromOutside = async (paths: readonly string[]): Promise<void> => {
    await openNamed(paths);
    if (app.isReady()) showWindow();
  };
  app.on('second-instance', (_event, _args, _folder, data) => void openFromOutside(secondStartFiles(data)));
  app.on('open-file', (event, path) => {
    event.preventDefault();
    void openFromOutside([path]);
  });
  app.on('window-all-closed', () => {
    if (process.platform !== 'darwin') app.quit();
  });
  app.on('activate', () => {
    if (app.isReady()) showWindow();
  });

  registerBridge(ipcMain, service);
  void app.whenReady().then(async () => {
    limitPermissions(session.defaultSession);
    const question = letPageChoosePort(session.defaultSession, (ports) =>
      window?.webContents.send(bridgeChannels.serialPortsFound, ports),
    );
    registerSerialChoice(ipcMain, question.choose);
    refuseRemoteContent(session.defaultSession);
    protocol.handle(appScheme.scheme, appSchemeHandler({ folder: pageFolder, grants }));
    Menu.setApplicationMenu(
      Menu.buildFromTemplate(
        appMenu(process.platform, {
          print: () => window?.webContents.print(),
          send: (command) => window?.webContents.send(bridgeChannels.menuCommand, command),
        }),
      ),
    );
    // Granted before the page asks for them.
    await openNamed(firstFiles);
    showWindow();
  });
}
