import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { ActionButton } from '../widgets/action-button.tsx';
import { useApp } from './services.ts';

/** What becomes of changes that are in no file, before another job takes their place. */
export function LeaveDialog() {
  const question = useApp((state) => state.leaveQuestion);
  if (!question) return null;
  const { jobName, next, answer } = question;
  return (
    <ModalOverlay className="modal-veil" isOpen onOpenChange={(open) => !open && answer('stay')}>
      <Modal className="modal-box">
        <Dialog className="stack" role="alertdialog">
          <Heading slot="title" level={2}>
            “{jobName}” has changes that are not saved
          </Heading>
          <p className="lead">Save it to a file before you {next}?</p>
          <ActionButton look="main" onPress={() => answer('save')}>
            Save, then {next}
          </ActionButton>
          <ActionButton onPress={() => answer('leave')}>Leave the changes and {next}</ActionButton>
          <ActionButton look="quiet" onPress={() => answer('stay')}>
            Stay with this job
          </ActionButton>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
