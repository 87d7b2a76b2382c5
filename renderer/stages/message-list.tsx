import type { JobMessage } from '../../core/job/job-messages.ts';
import type { StageId } from '../state/app-state.ts';
import { useApp, useDerived } from '../app/services.ts';
import { MessageCard } from '../widgets/message-card.tsx';
import { jobOf } from '../state/app-store.ts';

/** Everything the plan has to say about one stage. */
interface MessageListProps {
  readonly stage: StageId;
  /** Those that the stage shows elsewhere. */
  readonly without?: (message: JobMessage) => boolean;
}

export function MessageList({ stage, without }: MessageListProps) {
  const all = useDerived((derived) => derived.messages);
  const parts = useApp(jobOf).parts;
  const mine = all.filter((message) => message.stage === stage && !without?.(message));
  if (mine.length === 0) return null;
  const where = (message: JobMessage): string => {
    const part = parts.length > 1 ? parts.find((candidate) => candidate.id === message.partId) : undefined;
    return part ? `${part.name}: ` : '';
  };
  return (
    <div className="stack">
      {mine.map((message, index) => (
        <MessageCard
          key={`${message.code}-${message.partId ?? ''}-${message.contactId ?? ''}-${index}`}
          level={message.level}
          message={where(message) + message.message}
          remedy={message.remedy}
        />
      ))}
    </div>
  );
}
