import type { FitVerdict } from '../../core/job/fit-verdict.ts';

/** The word on a fit’s card and whether it is to be looked at. */
export const VERDICTS: Readonly<
  Record<FitVerdict, { readonly word: string; readonly look: '' | 'good' | 'look' }>
> = {
  'coat as it is': { word: 'coat as it is', look: 'good' },
  'machine first': { word: 'machine first, or mask', look: 'look' },
  mask: { word: 'mask', look: 'look' },
  keeps: { word: 'masked', look: 'good' },
  machined: { word: 'machined to size', look: 'good' },
  'machined off': { word: 'machined to another size', look: 'look' },
  'tick again': { word: 'say again', look: 'look' },
  'bare in lye': { word: 'bare in the strip', look: 'look' },
  bare: { word: 'to be masked', look: 'look' },
  holds: { word: 'no tolerance', look: '' },
  unread: { word: 'not read', look: 'look' },
};
