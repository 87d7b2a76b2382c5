import type { RunOutcome } from '../../core/shop/run-record.ts';

export const OUTCOME_WORDS: Readonly<Record<RunOutcome, string>> = {
  running: 'in progress',
  unjudged: 'not judged yet',
  good: 'good',
  flawed: 'usable, with a flaw',
  failed: 'failed',
};
