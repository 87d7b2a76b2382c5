import type { SaidEvent } from '../../core/shop/run-record.ts';
import { useApp, useRun, useServices } from '../app/services.ts';
import { wordsNow } from '../state/run-words.ts';
import { ActionButton } from '../widgets/action-button.tsx';
import { MessageCard } from '../widgets/message-card.tsx';
import { RunLines, runLines } from './run-lines.tsx';
import { WrongReading } from './wrong-reading.tsx';
import { clockText } from './spoken-time.ts';

/** What was said and what happened to the clock, newest first. */
export function RunMessages() {
  const { runs } = useServices();
  const view = useRun((state) => state);
  const { record, readings, events, kept, role } = view;
  const system = useApp((state) => state.unitSystem);
  if (!record) return null;
  const isOwner = role === 'owner';
  /** It rests on one typed reading alone, which somebody may know to be wrong. */
  const mayBeWrong = ({ alone, sinceS }: SaidEvent): boolean =>
    alone === true && isOwner && record.origin === 'typed' && readings.tS.includes(sinceS);
  const findings = record.clock.findings;
  const lastJump = findings.findLastIndex(({ kind }) => kind === 'jumped-ahead');
  return (
    <>
      {kept ? null : (
        <p className="soft" role="status">
          Writing…
        </p>
      )}
      {[...events].reverse().map((event) => {
        const { message, remedy } = wordsNow(event, view, system);
        return (
          <MessageCard
            key={`${event.kind}-${event.atS}`}
            level={event.level === 'alarm' ? 'stop' : event.level}
            message={`${clockText(event.atS * 1000)} after power on: ${message}`}
            remedy={remedy}
          >
            {mayBeWrong(event) ? <WrongReading key={event.sinceS} tS={event.sinceS} /> : null}
          </MessageCard>
        );
      })}
      {findings.map((finding, index) => (
        <MessageCard key={`clock-${index}`} level="check" message={finding.message} remedy={finding.remedy}>
          {index === lastJump && isOwner ? (
            <ActionButton look="small" onPress={() => runs.recorder.denyJump()}>
              The clock was set; take the time back
            </ActionButton>
          ) : null}
        </MessageCard>
      ))}
    </>
  );
}

/** Notes, gaps and what the run did by itself, newest first. */
export function RunLog() {
  const record = useRun((view) => view.record);
  if (!record) return null;
  const lines = runLines(record).sort((a, b) => b.atMs - a.atMs);
  if (lines.length === 0) return null;
  return (
    <section className="stack" aria-label="Notes and gaps">
      <h3>Notes and gaps{record.practise ? ', practise time' : ''}</h3>
      <RunLines lines={lines} />
    </section>
  );
}
