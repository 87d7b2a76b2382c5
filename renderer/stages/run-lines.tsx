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

const MARK_WORDS = { pause: 'Timer paused', resume: 'Timer goes on', end: 'The run ended' } as const;

/** All that happened in a run, the steps, pauses and ways back with the rest, oldest first. */
export function wholeRunLines(record: RunRecord): RunLine[] {
  const { steps, marks } = record.clock;
  let step = 0;
  const moves = marks.flatMap(({ kind, atMs }): RunLine[] => {
    if (kind === 'note') return [];
    if (kind === 'next') step++;
    if (kind === 'back') step = Math.max(0, step - 1);
    const label = steps[step]?.label ?? 'the end';
    const text =
      kind === 'begin' || kind === 'next'
        ? `Step: ${label}`
        : kind === 'back'
          ? `Back to: ${label}`
          : MARK_WORDS[kind];
    return [{ atMs, text }];
  });
  return [...moves, ...runLines(record)].sort((a, b) => a.atMs - b.atMs);
}

/** Lines with the time of day before them, in the order given. */
export function RunLines({ lines }: { readonly lines: readonly RunLine[] }) {
  return (
    <ul className="history-list timed">
      {lines.map((line, index) => (
        <li key={index}>
          <span className="soft">{timeOfDay(line.atMs)}</span>
          <span>{line.text}</span>
        </li>
      ))}
    </ul>
  );
}
