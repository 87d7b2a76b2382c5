import { useEffect, useState } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import type { FoundSerialPort } from '../../core/bridge/bridge.ts';
import { useServices } from '../app/services.ts';
import { ActionButton } from '../widgets/action-button.tsx';

/** Which serial port, where the shell leaves the question to the page. */
export function PortChooser() {
  const { bridge } = useServices();
  const chooser = bridge.serialPorts;
  const [ports, setPorts] = useState<readonly FoundSerialPort[] | null>(null);
  useEffect(() => chooser?.onFound(setPorts), [chooser]);
  if (!chooser) return null;
  return (
    <ModalOverlay
      className="modal-veil"
      isOpen={ports !== null}
      isDismissable
      onOpenChange={(open) => {
        if (!open) chooser.choose(null);
      }}
    >
      <Modal className="modal-box">
        <Dialog className="stack">
          <Heading slot="title" level={2}>
            Which port is the supply at?
          </Heading>
          {ports?.length === 0 ? (
            <p className="lead">
              No serial port is there. Plug the supply in and switch it on; it shows here then.
            </p>
          ) : null}
          {ports?.map((port) => (
            <ActionButton key={port.id} onPress={() => chooser.choose(port.id)}>
              {port.name} <span className="soft">{port.detail}</span>
            </ActionButton>
          ))}
          <ActionButton look="quiet" onPress={() => chooser.choose(null)}>
            None of them
          </ActionButton>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
