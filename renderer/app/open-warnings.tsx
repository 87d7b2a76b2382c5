import { Button, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components';
import { partBefore } from '../../core/job/part-before.ts';
import { isOpen, type JobMessage } from '../../core/job/job-messages.ts';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { jobOf } from '../state/app-store.ts';
import { useApp, useDerived, useServices } from './services.ts';
import { STAGE_TITLES } from './stage-titles.ts';

const LEVEL_WORDS = { stop: 'Stop', check: 'Check', note: 'Note' } as const;

/** What is still open before the power goes on, worst first: the foot of the window counts it, a press lists it. */
export function OpenWarnings() {
  const messages = useDerived((derived) => derived.messages);
  const open = messages.filter(isOpen);
  const count = open.filter(({ pending }) => !pending).length;
  const first = open[0];
  const parts = useApp(jobOf).parts;
  const system = useApp((state) => state.unitSystem);
  return (
    <DialogTrigger>
      <Button className="plan-figure" isDisabled={!first}>
        <span className="plan-label">Open warnings</span>
        <span className="plan-value">{count}</span>
        <span className={`plan-note ${count > 0 ? 'check' : ''}`}>
          {first ? partBefore(parts, first) + inReaderUnits(first.message, system) : 'nothing to look at'}
        </span>
      </Button>
      <Popover className="popover warnings" placement="top end">
        <Dialog className="stack">
          {({ close }) => (
            <>
              <Heading slot="title">Open before the power goes on</Heading>
              <ul className="stack">
                {open.map((message, index) => (
                  <li key={index}>
                    <Warning message={message} onGo={close} />
                  </li>
                ))}
              </ul>
            </>
          )}
        </Dialog>
      </Popover>
    </DialogTrigger>
  );
}

function Warning({ message, onGo }: { message: JobMessage; onGo: () => void }) {
  const { store } = useServices();
  const parts = useApp(jobOf).parts;
  const system = useApp((state) => state.unitSystem);
  const go = (): void => {
    store.setState({
      stage: message.stage,
      ...(message.partId ? { activePartId: message.partId } : {}),
      ...(message.contactId ? { selectedPinId: message.contactId } : {}),
    });
    onGo();
  };
  return (
    <Button className={`message ${message.level}`} onPress={go}>
      <span className="message-level">
        {message.pending ? 'Not looked at yet' : LEVEL_WORDS[message.level]} ·{' '}
        {STAGE_TITLES[message.stage][0]}
      </span>
      <span>
        {partBefore(parts, message)}
        {inReaderUnits(message.message, system)}
      </span>
      <span>{inReaderUnits(message.remedy, system)}</span>
    </Button>
  );
}
