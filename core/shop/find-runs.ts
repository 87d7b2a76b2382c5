import type { RunOutcome } from './run-record.ts';
import type { RunSummary } from './run-summary.ts';

export interface RunFilter {
  /** Every word must be in the run's name, pieces, notes, dye or colour. */
  readonly text: string;
  readonly outcome: RunOutcome | 'any';
  readonly kind: 'all' | 'real' | 'simulated';
}

export const NO_FILTER: RunFilter = { text: '', outcome: 'any', kind: 'all' };

/** The runs a filter lets through, in the order given. */
export function findRuns(runs: readonly RunSummary[], filter: RunFilter): readonly RunSummary[] {
  const words = filter.text
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  if (words.length === 0 && filter.outcome === 'any' && filter.kind === 'all') return runs;
  return runs.filter(
    (run) =>
      (filter.outcome === 'any' || run.outcome === filter.outcome) &&
      (filter.kind === 'all' || run.simulated === (filter.kind === 'simulated')) &&
      words.every((word) => run.words.includes(word)),
  );
}
