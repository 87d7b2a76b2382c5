import { useEffect, useRef } from 'react';
import { dismissNotice } from '../state/notices.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { useApp, useServices } from './services.ts';

/** Files on their way in, with cancel; and what went wrong outside any field, until dismissed. */
export function NoticeStack() {
  const { store } = useServices();
  const loadings = useApp((state) => state.loadings);
  const notices = useApp((state) => state.notices);
  const stack = useRef<HTMLDivElement>(null);
  const newest = notices.at(-1)?.id;
  // In a scrolled panel it would come where nobody looks.
  useEffect(() => {
    if (newest !== undefined) stack.current?.lastElementChild?.scrollIntoView({ block: 'nearest' });
  }, [newest]);
  return (
    <div className="notices" ref={stack}>
      {loadings.map((loading) => (
        <div key={loading.id} className="loading stack" role="status">
          <div className="row">
            <strong className="grow">
              {loading.fileName}: {loading.phase}
            </strong>
            <ActionButton look="small" onPress={loading.cancel}>
              Cancel<span className="visually-hidden"> reading {loading.fileName}</span>
            </ActionButton>
          </div>
          <progress
            aria-label={`Reading ${loading.fileName}`}
            max={1}
            {...(loading.fraction === null ? {} : { value: loading.fraction })}
          />
        </div>
      ))}
      {notices.map(({ id, level, failure }) => (
        <MessageCard key={id} level={level} message={failure.message} remedy={failure.remedy}>
          <ActionButton look="small" onPress={() => dismissNotice(store, id)}>
            Close<span className="visually-hidden"> this message</span>
          </ActionButton>
        </MessageCard>
      ))}
    </div>
  );
}
