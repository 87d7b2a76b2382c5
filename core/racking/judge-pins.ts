import type { Adviser, PinToJudge } from './advise-contacts.ts';
import { judgeContactPair, type PairVerdict } from './contact-pairs.ts';
import type { ContactAdvice } from './judge-place.ts';
import type { Vec3 } from './vec3.ts';

/** What is to be said of the user's own pins. */
export interface PinVerdicts {
  /** By the pins' ids: of one that holds the part alone, or of each as one of several. */
  readonly critique: Readonly<Record<string, ContactAdvice>>;
  /** Of two pins together; null for another number of them, and where they can't carry the part. */
  readonly together: PairVerdict | null;
}

/**
 * @param pins on the part's mesh, model units
 * @param size diagonal of the part's box, model units
 */
export function judgePins(
  adviser: Adviser,
  pins: readonly (PinToJudge & { readonly id: string })[],
  { centre, up, size }: { readonly centre: Vec3; readonly up: Vec3; readonly size: number },
): PinVerdicts {
  const judged = adviser.critique(pins, pins.length > 1);
  const critique = Object.fromEntries(pins.map(({ id }, row) => [id, judged[row]]));
  const [first, second, third] = judged;
  const together = first && second && !third ? judgeContactPair([first, second], centre, up, size) : null;
  return { critique, together: together?.ok ? together.value : null };
}
