import { createStore, type StoreApi } from 'zustand/vanilla';
import { failure, success, type Result } from '../../core/result.ts';
import { supplyProtocol } from '../../core/run/supply-protocol.ts';
import type { SessionNews } from '../../core/run/supply-session.ts';
import { supplyLinkSchema, type SupplyRecord } from '../../core/shop/supply-record.ts';
import type { RunRecorder } from './run-view.ts';
import { openSupplyLink, type SerialLike, type SerialPortLike, type SupplyLink } from './supply-link.ts';

export interface SupplyDeskState {
  readonly status: 'off' | 'choosing' | 'connecting' | 'live' | 'gap';
  readonly supplyName: string;
  /** What it calls itself, and what it last complained of. */
  readonly identity: string;
  readonly complaint: string;
  /** The newest value; null from the moment a gap begins, so that no stale number stands there. */
  readonly last: { readonly voltageV: number; readonly currentA: number; readonly atS: number } | null;
  readonly gap: { readonly why: 'unplugged' | 'silent' | 'garbled'; readonly sinceS: number } | null;
}

/** The supply being read, whether or not a run takes its readings. */
export interface SupplyDesk {
  readonly state: StoreApi<SupplyDeskState>;
  /** Whether this browser can reach serial ports at all. */
  readonly available: boolean;
  /** Asks which port and begins to read. Must come from a click. */
  connect(supply: SupplyRecord): Promise<Result<null>>;
  /** After a reload, over a port allowed before; false where there is not exactly one. */
  connectAgain(supply: SupplyRecord): Promise<boolean>;
  disconnect(): Promise<void>;
}

const OFF: SupplyDeskState = {
  status: 'off',
  supplyName: '',
  identity: '',
  complaint: '',
  last: null,
  gap: null,
};

export const GAP_WORDS = {
  unplugged: 'The cable to the supply is out, or the supply is off.',
  silent: 'The supply does not answer.',
  garbled: 'The supply’s answers can’t be read.',
} as const;

export const GAP_REMEDIES = {
  unplugged: 'Plug it in again; reading goes on by itself.',
  silent: 'Check cable, speed and whether the supply is set to remote reading; type readings meanwhile.',
  garbled: 'Check speed and pattern in the supply’s settings; type readings meanwhile.',
} as const;

export function createSupplyDesk(
  serial: SerialLike | null,
  recorder: Pick<RunRecorder, 'addLive' | 'noteInLog' | 'useSupply' | 'view'>,
  nowS: () => number,
  wait: (ms: number) => Promise<void>,
): SupplyDesk {
  const state = createStore<SupplyDeskState>(() => OFF);
  let link: SupplyLink | null = null;

  const hear = (news: SessionNews): void => {
    switch (news.kind) {
      case 'identified':
        return state.setState({ identity: news.text });
      case 'supply-error':
        return state.setState({ complaint: `The supply reports: ${news.text}` });
      case 'garbled':
        return state.setState({ complaint: `Not understood: “${news.line}”` });
      case 'gap':
        state.setState({ status: 'gap', last: null, gap: { why: news.why, sinceS: news.sinceS } });
        return recorder.noteInLog('gap', GAP_WORDS[news.why]);
      case 'back':
        state.setState({ status: 'live', gap: null, complaint: '' });
        return recorder.noteInLog('back', `Readings again after ${Math.round(news.atS - news.sinceS)} s.`);
      case 'reading': {
        const { tS, voltageV, currentA } = news.reading;
        state.setState({ status: 'live', gap: null, last: { voltageV, currentA, atS: tS } });
        return recorder.addLive({ voltageV, currentA }, Math.max(0, nowS() - tS));
      }
    }
  };

  const begin = (supply: SupplyRecord, port: SerialPortLike, from: SerialLike): Result<null> => {
    const settings = supply.link ?? supplyLinkSchema.parse({});
    const protocol = supplyProtocol(settings.protocol);
    if (!protocol.ok) {
      state.setState(OFF);
      return protocol;
    }
    state.setState({ ...OFF, status: 'connecting', supplyName: supply.name });
    recorder.useSupply(supply.id);
    link = openSupplyLink({
      serial: from,
      port,
      settings,
      protocol: protocol.value,
      nowS,
      wait,
      onNews: hear,
      onState: (now, why) => {
        if (now === 'closed') state.setState(OFF);
        if (now === 'waiting' && state.getState().status === 'connecting') {
          state.setState({ complaint: `The port can’t be opened yet: ${why}` });
        }
      },
    });
    return success(null);
  };

  const disconnect = async (): Promise<void> => {
    const was = link;
    link = null;
    await was?.close();
  };

  return {
    state,
    available: serial !== null,
    async connect(supply) {
      if (!serial) {
        return failure(
          'serial-not-here',
          'This browser can’t reach serial ports.',
          'Use the desktop program or a Chromium browser, or type the readings.',
        );
      }
      await disconnect();
      state.setState({ ...OFF, status: 'choosing', supplyName: supply.name });
      let port: SerialPortLike;
      try {
        port = await serial.requestPort();
      } catch {
        state.setState(OFF);
        return failure(
          'serial-none-chosen',
          'No port was chosen.',
          'Plug the supply in and choose its port.',
        );
      }
      return begin(supply, port, serial);
    },
    async connectAgain(supply) {
      if (!serial || link) return false;
      const ports = await serial.getPorts().catch((): SerialPortLike[] => []);
      if (ports.length !== 1) return false;
      return begin(supply, ports[0]!, serial).ok;
    },
    disconnect,
  };
}
