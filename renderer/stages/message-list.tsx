import type { JobMessage } from '../../core/job/job-messages.ts';
import { partBefore } from '../../core/job/part-before.ts';
import type { StageId } from '../state/app-state.ts';
import { useApp, useDerived } from '../app/services.ts';
import { MessageCard } from '../widgets/message-card.tsx';
import { jobOf } from '../state/app-store.ts';

interface MessageListProps {
  readonly stage: StageId;
  /** Those that the stage shows elsewhere. */
  readonly without?: (message: JobMessage) => boolean;
  /** Those that the stage says in full elsewhere. */
  readonly briefly?: (message: JobMessage) => boolean;
}

/** Everything the plan has to say about one stage. */
export function MessageList({ stage, without, briefly }: MessageListProps) {
  const all = useDerived((derived) => derived.messages);
  const parts = useApp(jobOf).parts;
  const mine = all.filter((message) => message.stage === stage && !without?.(message));
  if (mine.length === 0) return null;
  return (
    <div className="stack">
      {mine.map((message, index) => (
        <MessageCard
          key={`${message.code}-${message.partId ?? ''}-${message.contactId ?? ''}-${index}`}
          level={message.level}
          {...(briefly?.(message) && message.brief
            ? { message: message.brief, remedy: '' }
            : { message: partBefore(parts, message) + message.message, remedy: message.remedy })}
        />
      ))}
    </div>
  );
}
