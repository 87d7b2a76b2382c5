import { fieldVerb } from './field-verb.ts';
import { fitVerb } from './fit-verb.ts';
import { hangVerb } from './hang-verb.ts';
import { mixVerb } from './mix-verb.ts';
import { planVerb } from './plan-verb.ts';
import { simulateVerb } from './simulate-verb.ts';
import type { Verb } from './verb.ts';
import { watchVerb } from './watch-verb.ts';

/** Every verb of the command, in the order of the job. */
export const VERBS: readonly Verb[] = [
  planVerb,
  hangVerb,
  fieldVerb,
  mixVerb,
  fitVerb,
  watchVerb,
  simulateVerb,
];
