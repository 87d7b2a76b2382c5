import type { RunRecord } from '../../core/shop/run-record.ts';
import { timeOfDay } from './spoken-time.ts';

interface RunLine {
  readonly atMs: number;
  readonly text: string;
}

/** What was logged and noted in a run, oldest first. */
export function runLines({ log, clock }: RunRecord): RunLine[] {
  const notes = clock.marks.flatMap((mark) =>
    mark.kind === 'note' ? [{ atMs: mark.atMs, text: mark.text }] : [],
  );
  return [...log, ...notes].sort((a, b) => a.atMs - b.atMs);
}

/** Lines with the time of day before them, in the order given. */
export function RunLines({ lines }: { readonly lines: readonly RunLine[] }) {
  return (
    <ul className="history-list">
      {lines.map((line, index) => (
        <li key={index}>
          <span className="soft">{timeOfDay(line.atMs)}</span>
          <span>{line.text}</span>
        </li>
      ))}
    </ul>
  );
}
