/**
 * The one field that may hold a text not yet taken: fields take what was typed as a whole, so that "1" on the way to "18 °C" moves
 * nothing. What acts without the field being left (a key, the shell's menu, the page going away) takes it first.
 */
let take: (() => void) | null = null;

/** @returns what to call when nothing is left to take */
export function holdEntry(takeIt: () => void): () => void {
  take = takeIt;
  return () => {
    if (take === takeIt) take = null;
  };
}

export function takeOpenEntry(): void {
  take?.();
}
