import type { IpcMain, Session } from 'electron';
import { expect, test } from 'vitest';
import { bridgeChannels } from '../../../core/bridge/bridge-channels.ts';
import type { FoundSerialPort } from '../../../core/bridge/bridge.ts';
import { registerSerialChoice } from '../../../main/window/register-bridge.ts';
import { letPageChoosePort } from '../../../main/window/serial-ports.ts';
import { ownFrame, preventable, StandInIpc, StandInSession } from '../electron-stand-in.ts';

const usb = { portId: 'p1', portName: 'ttyUSB0', displayName: 'Bench supply', serialNumber: 'A1' };
const other = { portId: 'p2', portName: 'COM3' };

function asked() {
  const session = new StandInSession();
  const ipc = new StandInIpc();
  const shown: (readonly FoundSerialPort[] | null)[] = [];
  const question = letPageChoosePort(session as unknown as Session, (ports) => shown.push(ports));
  registerSerialChoice(ipc as unknown as IpcMain, question.choose);
  const answers: string[] = [];
  const ask = (ports: readonly object[]): ReturnType<typeof preventable> => {
    const event = preventable();
    session.emit('select-serial-port', event, ports, {}, (id: string) => answers.push(id));
    return event;
  };
  const choose = (id: unknown): unknown =>
    ipc.listeners.get(bridgeChannels.chooseSerialPort)?.({ senderFrame: ownFrame }, id);
  return { session, shown, answers, ask, choose };
}

test('the page sees the ports and its choice is the answer', () => {
  const { shown, answers, ask, choose } = asked();
  expect(ask([usb, other]).prevented).toBe(true);
  expect(shown).toEqual([
    [
      { id: 'p1', name: 'Bench supply', detail: 'ttyUSB0, A1' },
      { id: 'p2', name: 'COM3', detail: 'COM3' },
    ],
  ]);
  choose('p1');
  expect(answers).toEqual(['p1']);
  expect(shown.at(-1)).toBeNull();
  choose('p2');
  expect(answers).toEqual(['p1']);
});

test('ports that come and go are shown; what was not shown can not be chosen', () => {
  const { session, shown, answers, ask, choose } = asked();
  session.emit('serial-port-added', {}, usb, {});
  expect(shown).toEqual([]);
  ask([]);
  session.emit('serial-port-added', {}, usb, {});
  expect(shown.at(-1)?.map(({ id }) => id)).toEqual(['p1']);
  session.emit('serial-port-removed', {}, usb, {});
  expect(shown.at(-1)).toEqual([]);
  choose('p1');
  expect(answers).toEqual(['']);
});

test('none of them, and a second question, both end the first with none', () => {
  const { answers, ask, choose } = asked();
  ask([usb]);
  choose(null);
  ask([usb]);
  ask([usb, other]);
  choose('p2');
  expect(answers).toEqual(['', '', 'p2']);
});

test('an answer of another shape reaches nothing', () => {
  const { answers, ask, choose } = asked();
  ask([usb]);
  expect(() => choose(7)).toThrow(RangeError);
  expect(() => choose('')).toThrow(RangeError);
  expect(answers).toEqual([]);
});
