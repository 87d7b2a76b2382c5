import type { IpcMain, IpcMainEvent, IpcMainInvokeEvent } from 'electron';
import type { z } from 'zod';
import { bridgeChannels, bridgePayloads } from '../../core/bridge/bridge-channels.ts';
import { isAppUrl } from './app-scheme.ts';
import type { BridgeService } from './bridge-service.ts';

/**
 * Connects the preload's channels to the service. A message from any frame but the window's own main frame on the
 * program's own origin, or of any other shape than agreed, throws and reaches nothing.
 */
export function registerBridge(ipcMain: Pick<IpcMain, 'handle' | 'on'>, service: BridgeService): void {
  const answer = <T>(channel: string, shape: z.ZodType<T>, give: (payload: T) => unknown): void => {
    ipcMain.handle(channel, (event, ...payload: unknown[]) => give(accept(channel, event, shape, payload)));
  };
  const { nothing } = bridgePayloads;
  answer(bridgeChannels.startupFiles, nothing, () => service.startupFiles());
  answer(bridgeChannels.chooseFiles, bridgePayloads.chooseFiles, (kind) => service.chooseFiles(kind));
  answer(bridgeChannels.grantDropped, bridgePayloads.grantDropped, (paths) => service.grantDropped(paths));
  answer(bridgeChannels.saveJob, bridgePayloads.saveJob, (request) => service.saveJob(request));
  answer(bridgeChannels.recentJobs, nothing, () => service.recentJobs());
  answer(bridgeChannels.openRecent, bridgePayloads.openRecent, (id) => service.openRecent(id));
  answer(bridgeChannels.savePdf, bridgePayloads.savePdf, (name) => service.savePdf(name));

  ipcMain.on(bridgeChannels.windowState, (event, ...payload: unknown[]) => {
    service.showWindowState(accept(bridgeChannels.windowState, event, bridgePayloads.windowState, payload));
  });
}

/** The page's answer to which serial port; checked like everything else that comes from it. */
export function registerSerialChoice(
  ipcMain: Pick<IpcMain, 'on'>,
  choose: (id: string | null) => void,
): void {
  ipcMain.on(bridgeChannels.chooseSerialPort, (event, ...payload: unknown[]) => {
    choose(accept(bridgeChannels.chooseSerialPort, event, bridgePayloads.chooseSerialPort, payload));
  });
}

/** @throws RangeError for a stranger or a payload of another shape */
function accept<T>(
  channel: string,
  event: IpcMainEvent | IpcMainInvokeEvent,
  shape: z.ZodType<T>,
  payload: readonly unknown[],
): T {
  const frame = event.senderFrame;
  if (!frame || frame.parent !== null || !isAppUrl(frame.url)) {
    throw new RangeError(`${channel}: refused, the sender is not the program's own page`);
  }
  if (payload.length > 1) throw new RangeError(`${channel}: one argument expected, got ${payload.length}`);
  const parsed = shape.safeParse(payload[0]);
  if (!parsed.success) throw new RangeError(`${channel}: ${parsed.error.message}`);
  return parsed.data;
}
