/**
 * What stands in for Electron in tests: its event emitters and registrations with their real shapes, and no
 * behaviour of its own. What is tested is what our code does with them.
 */
import { EventEmitter } from 'node:events';

export interface PreventableEvent {
  readonly url: string;
  readonly prevented: boolean;
  preventDefault(): void;
}

export function preventable(url = ''): PreventableEvent {
  let prevented = false;
  return {
    url,
    get prevented() {
      return prevented;
    },
    preventDefault() {
      prevented = true;
    },
  };
}

export class StandInContents extends EventEmitter {
  windowOpenHandler: ((details: { url: string }) => { action: string }) | null = null;
  readonly sent: { channel: string; payload: unknown[] }[] = [];
  printed = 0;

  setWindowOpenHandler(handler: (details: { url: string }) => { action: string }): void {
    this.windowOpenHandler = handler;
  }
  send(channel: string, ...payload: unknown[]): void {
    this.sent.push({ channel, payload });
  }
  print(): void {
    this.printed++;
  }
}

type Handler = (...args: never[]) => unknown;

export class StandInSession extends EventEmitter {
  checkPermission: Handler | null = null;
  requestPermission: Handler | null = null;
  devicePermission: Handler | null = null;
  beforeRequest:
    ((details: { url: string }, callback: (answer: { cancel: boolean }) => void) => void) | null = null;

  setPermissionCheckHandler(handler: Handler): void {
    this.checkPermission = handler;
  }
  setPermissionRequestHandler(handler: Handler): void {
    this.requestPermission = handler;
  }
  setDevicePermissionHandler(handler: Handler): void {
    this.devicePermission = handler;
  }
  readonly webRequest = {
    onBeforeRequest: (handler: NonNullable<StandInSession['beforeRequest']>): void => {
      this.beforeRequest = handler;
    },
  };
}

type IpcListener = (event: unknown, ...payload: unknown[]) => unknown;

/** Both ends of Electron's messages: what main registers, and what a frame sends. */
export class StandInIpc {
  readonly handlers = new Map<string, IpcListener>();
  readonly listeners = new Map<string, IpcListener>();

  handle(channel: string, handler: IpcListener): void {
    this.handlers.set(channel, handler);
  }
  on(channel: string, listener: IpcListener): void {
    this.listeners.set(channel, listener);
  }

  /** As ipcRenderer.invoke: a throw in the handler rejects, and what travels is cloned. */
  async invoke(channel: string, frame: StandInFrame | null, ...payload: unknown[]): Promise<unknown> {
    const handler = this.handlers.get(channel);
    if (!handler) throw new Error(`no handler for ${channel}`);
    return structuredClone(await handler({ senderFrame: frame }, ...structuredClone(payload)));
  }
  send(channel: string, frame: StandInFrame | null, ...payload: unknown[]): void {
    const listener = this.listeners.get(channel);
    if (!listener) throw new Error(`no listener for ${channel}`);
    listener({ senderFrame: frame }, ...structuredClone(payload));
  }
}

export interface StandInFrame {
  readonly url: string;
  readonly parent: StandInFrame | null;
}

export const ownFrame: StandInFrame = { url: 'tankside://app/index.html', parent: null };
