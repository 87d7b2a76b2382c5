import { expect, test } from 'vitest';
import type { RunRecord } from '../../../core/shop/run-record.ts';
import { wholeRunLines } from '../../../renderer/stages/run-lines.tsx';

test('steps, pauses, ways back, notes and readings’ log stand in the order they happened', () => {
  const steps = ['Ramp', 'Hold', 'Rinse'].map((label) => ({ kind: 'hold', label, plannedS: 1 }));
  const marks = (['begin', 'next', 'pause', 'resume', 'next', 'back', 'next', 'end'] as const).map(
    (kind, i) => ({ kind, atMs: 10 * i }),
  );
  const record = {
    log: [{ atMs: 15, kind: 'gap', text: 'No readings for 20 s' }],
    clock: { steps, marks: [...marks, { kind: 'note', atMs: 25, text: 'looked' }] },
  } as unknown as RunRecord;
  expect(wholeRunLines(record).map(({ text }) => text)).toEqual([
    'Step: Ramp',
    'Step: Hold',
    'No readings for 20 s',
    'Timer paused',
    'looked',
    'Timer goes on',
    'Step: Rinse',
    'Back to: Hold',
    'Step: Rinse',
    'The run ended',
  ]);
});
