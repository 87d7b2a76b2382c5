import { isOpen } from '../../core/job/job-messages.ts';
import { partBefore } from '../../core/job/part-before.ts';
import { useServices, useApp, useDerived } from '../app/services.ts';
import { jobOf } from '../state/app-store.ts';
import { notify } from '../state/notices.ts';
import { safeFileName } from '../state/save-file.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { StageHead } from './stage-head.tsx';

/** The sheet for the tank: shown in the middle as it will be printed. */
export function SheetStage() {
  const { bridge, store } = useServices();
  const plan = useDerived((derived) => derived.plan);
  const messages = useDerived((derived) => derived.messages);
  const { name, parts } = useApp(jobOf);
  const open = messages.filter(isOpen);
  const savePdf = async (): Promise<void> => {
    const saved = await bridge.savePdf?.(`${safeFileName(name)}.pdf`);
    if (saved && !saved.ok) notify(store, saved.error);
  };
  return (
    <>
      <StageHead title="Run sheet">
        Everything for the tank on paper: amounts, steps with boxes to tick, lines for readings. Print it and
        take it along.
      </StageHead>
      {plan?.ok ? (
        <div className="choices">
          <ActionButton look="main" onPress={() => window.print()}>
            Print…
          </ActionButton>
          {bridge.savePdf ? <ActionButton onPress={() => void savePdf()}>Save as PDF…</ActionButton> : null}
        </div>
      ) : (
        <p className="soft">
          The sheet is made as soon as there is a plan: open a part and set current and time.
        </p>
      )}
      {open.length > 0 ? (
        <>
          <h3>Still open; printed at the head of the sheet</h3>
          {open.map((message, index) => (
            <MessageCard
              key={`${message.code}-${index}`}
              level={message.level}
              message={partBefore(parts, message) + message.message}
              remedy={message.remedy}
            >
              <ActionButton look="small" onPress={() => store.setState({ stage: message.stage })}>
                Go there
              </ActionButton>
            </MessageCard>
          ))}
        </>
      ) : null}
    </>
  );
}
