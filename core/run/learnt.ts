import type { Figure, Source } from '../figure/figure.ts';

/** What the shop's runs say about a number: nothing yet, or an offer. It is never switched to by itself. */
export type Learnt<T> =
  | {
      readonly state: 'too-little';
      readonly count: number;
      readonly needed: number;
      readonly message: string;
      readonly remedy: string;
    }
  | {
      readonly state: 'offered';
      readonly value: T;
      /** Runs used, and places in the list given of those left out as outliers. */
      readonly count: number;
      readonly outliers: readonly number[];
      readonly figures: readonly Figure[];
      /** What could not be told apart for want of variety. */
      readonly remarks: readonly string[];
    };

export function tooLittle(
  count: number,
  needed: number,
  what: string,
): Extract<Learnt<never>, { state: 'too-little' }> {
  return {
    state: 'too-little',
    count,
    needed,
    message: `${count === 0 ? 'No run' : count === 1 ? 'One run' : `${count} runs`} with ${what}: too little to learn from.`,
    remedy: `Record ${needed - count} more; until then the published value stands.`,
  };
}

export function ownRuns(count: number): Source {
  return { standing: 'your own runs', text: `${count} runs of this shop` };
}
