import { useState, type ReactNode } from 'react';
import { useApp, useServices } from '../app/services.ts';
import { Button, Disclosure, DisclosurePanel, Heading } from 'react-aria-components';

interface DisclosureSectionProps {
  readonly title: string;
  /** What it holds now, in a few words; seen while it is closed too. */
  readonly state?: string;
  readonly open?: boolean;
  readonly children: ReactNode;
}

/** One topic of a long stage, closed until it is wanted; it stands as it was left when the stage is looked at again. */
export function DisclosureSection({ title, state, open = false, children }: DisclosureSectionProps) {
  const { store } = useServices();
  const place = useApp(({ stage }) => `${stage}/${title}`);
  const left = useApp(({ openSections }) => openSections[place]);
  const [atFirst] = useState(open);
  return (
    <Disclosure
      className="disclosure"
      isExpanded={left ?? atFirst}
      onExpandedChange={(isOpen) =>
        store.setState(({ openSections }) => ({ openSections: { ...openSections, [place]: isOpen } }))
      }
    >
      {({ isExpanded }) => (
        <>
          <Heading level={3} className="disclosure-head">
            <Button slot="trigger" className="disclosure-button">
              <span className="disclosure-sign" aria-hidden="true">
                {isExpanded ? '▾' : '▸'}
              </span>
              <span className="disclosure-title">{title}</span>
              {state ? <span className="disclosure-state">{state}</span> : null}
            </Button>
          </Heading>
          <DisclosurePanel className="disclosure-panel">
            {isExpanded ? <div className="stack">{children}</div> : null}
          </DisclosurePanel>
        </>
      )}
    </Disclosure>
  );
}
