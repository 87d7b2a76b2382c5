import type { SupplyLinkSettings } from '../../core/shop/supply-record.ts';
import type { SupplyProtocol } from '../../core/run/supply-protocol.ts';
import {
  newSupplySession,
  stepSupplySession,
  type SessionInput,
  type SessionNews,
} from '../../core/run/supply-session.ts';

/** As much of Web Serial as is used; structural, so that a test can stand in for it. */
export interface SerialPortLike {
  readonly readable: ReadableStream<Uint8Array> | null;
  readonly writable: WritableStream<Uint8Array> | null;
  open(options: {
    baudRate: number;
    dataBits: 7 | 8;
    stopBits: 1 | 2;
    parity: 'none' | 'even' | 'odd';
  }): Promise<void>;
  close(): Promise<void>;
  getInfo(): { readonly usbVendorId?: number; readonly usbProductId?: number };
}

export interface SerialLike {
  requestPort(): Promise<SerialPortLike>;
  /** Ports the user has let this page use before. */
  getPorts(): Promise<SerialPortLike[]>;
}

export interface LinkParts {
  readonly serial: SerialLike;
  readonly port: SerialPortLike;
  readonly settings: SupplyLinkSettings;
  readonly protocol: SupplyProtocol;
  /** Seconds of a clock that only runs forward. */
  readonly nowS: () => number;
  readonly onNews: (news: SessionNews) => void;
  /** `waiting`: the port can't be opened now and is tried again. */
  readonly onState: (state: 'open' | 'waiting' | 'closed', why: string) => void;
  readonly wait: (ms: number) => Promise<void>;
}

export interface SupplyLink {
  /** Resolves when the port is given back. */
  close(): Promise<void>;
}

const TICK_MS = 250;
const TRY_AGAIN_MS = 1000;

/**
 * Keeps a supply's port open and its talk going until it is closed: reads, asks, and after an unplugged cable or a reset opens the
 * port again. Only what the session gives out is ever written, and that can only ask.
 */
export function openSupplyLink(parts: LinkParts): SupplyLink {
  const { serial, settings, protocol, nowS, onNews, onState, wait } = parts;
  let port = parts.port;
  let session = newSupplySession(protocol);
  let stopped = false;
  let reader: ReadableStreamDefaultReader<Uint8Array> | null = null;
  let writer: WritableStreamDefaultWriter<Uint8Array> | null = null;
  const encoder = new TextEncoder();

  const step = (input: SessionInput): void => {
    const next = stepSupplySession(session, input);
    session = next.session;
    // A write fails only when the port is gone, and then the reading side ends as well.
    for (const line of next.send) writer?.write(encoder.encode(line)).catch(() => {});
    for (const news of next.news) onNews(news);
  };

  const ticking = async (): Promise<void> => {
    while (!stopped) {
      await wait(TICK_MS);
      if (!stopped) step({ kind: 'tick', atS: nowS() });
    }
  };

  const readWhileOpen = async (): Promise<void> => {
    const decoder = new TextDecoder('latin1');
    // After a framing or parity error the port gives a new stream; after an unplugged cable none.
    while (port.readable && !stopped) {
      reader = port.readable.getReader();
      try {
        for (;;) {
          const { value, done } = await reader.read();
          if (done) return;
          if (value) step({ kind: 'text', atS: nowS(), text: decoder.decode(value) });
        }
      } catch {
        await wait(0);
      } finally {
        reader.releaseLock();
        reader = null;
      }
    }
  };

  /** The same device may come back as another port. */
  const portAgain = async (): Promise<SerialPortLike> => {
    const known = await serial.getPorts().catch((): SerialPortLike[] => []);
    const was = port.getInfo();
    const same = known.filter((candidate) => {
      const info = candidate.getInfo();
      return info.usbVendorId === was.usbVendorId && info.usbProductId === was.usbProductId;
    });
    return same.includes(port) ? port : (same[0] ?? port);
  };

  const talk = async (): Promise<void> => {
    while (!stopped) {
      const { baudRate, dataBits, stopBits, parity } = settings;
      try {
        await port.open({ baudRate, dataBits, stopBits, parity });
      } catch (fault) {
        onState('waiting', fault instanceof Error ? fault.message : String(fault));
        await wait(TRY_AGAIN_MS);
        port = await portAgain();
        continue;
      }
      writer = port.writable?.getWriter() ?? null;
      onState('open', '');
      step({ kind: 'opened', atS: nowS() });
      await readWhileOpen();
      writer?.releaseLock();
      writer = null;
      await port.close().catch(() => {});
      if (!stopped) {
        step({ kind: 'closed', atS: nowS() });
        onState('waiting', 'unplugged');
        await wait(TRY_AGAIN_MS);
        port = await portAgain();
      }
    }
    onState('closed', '');
  };

  const talked = talk();
  void ticking();
  return {
    async close() {
      stopped = true;
      await reader?.cancel().catch(() => {});
      await talked;
    },
  };
}
