import type { SerialPort, Session } from 'electron';
import type { FoundSerialPort } from '../../core/bridge/bridge.ts';

/**
 * Electron has no chooser for serial ports: when the page asks for one, it is shown what there is and its answer decides.
 * Ports that come and go meanwhile are shown too. A second question ends the first.
 */
export interface SerialPortQuestion {
  choose(id: string | null): void;
}

export function letPageChoosePort(
  session: Pick<Session, 'on'>,
  show: (ports: readonly FoundSerialPort[] | null) => void,
): SerialPortQuestion {
  let answer: ((portId: string) => void) | null = null;
  let ports: SerialPort[] = [];

  const choose = (id: string | null): void => {
    const open = answer;
    answer = null;
    if (!open) return;
    // Only what was shown can be chosen; an empty id is Electron's "none".
    open(ports.some(({ portId }) => portId === id) ? (id ?? '') : '');
    ports = [];
    show(null);
  };

  session.on('select-serial-port', (event, found, _contents, callback) => {
    event.preventDefault();
    choose(null);
    answer = callback;
    ports = [...found];
    show(ports.map(described));
  });
  session.on('serial-port-added', (_event, port) => {
    if (!answer) return;
    ports = [...ports.filter(({ portId }) => portId !== port.portId), port];
    show(ports.map(described));
  });
  session.on('serial-port-removed', (_event, port) => {
    if (!answer) return;
    ports = ports.filter(({ portId }) => portId !== port.portId);
    show(ports.map(described));
  });
  return { choose };
}

function described({ portId, portName, displayName, serialNumber }: SerialPort): FoundSerialPort {
  return {
    id: portId,
    name: displayName || portName,
    detail: [portName, serialNumber].filter(Boolean).join(', '),
  };
}
