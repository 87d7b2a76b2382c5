import type { ReactNode } from 'react';
import { inReaderUnits } from '../../core/units/reader-units.ts';
import { useApp } from '../app/services.ts';

const WORD = { note: 'Note', check: 'Check', stop: 'Stop' } as const;

interface MessageCardProps {
  readonly level: 'note' | 'check' | 'stop';
  readonly message: string;
  /** Empty where it is said beside the message. */
  readonly remedy: string;
  /** Buttons that do what the remedy says. */
  readonly children?: ReactNode;
}

/** One sentence with the cause, one with what to do, and where possible the button that does it. */
export function MessageCard({ level, message, remedy, children }: MessageCardProps) {
  const system = useApp((state) => state.unitSystem);
  return (
    <div className={`message ${level}`} role={level === 'stop' ? 'alert' : 'status'}>
      <span className="message-level">{WORD[level]}</span>
      <span>{inReaderUnits(message, system)}</span>
      {remedy === '' ? null : <span>{inReaderUnits(remedy, system)}</span>}
      {children ? <div className="row">{children}</div> : null}
    </div>
  );
}
