/** Text of a field that was not left before the page was closed; taken up when the field is shown again. */
export interface TypedText {
  put(place: string, text: string): void;
  /** What was left there, or null. */
  look(place: string): string | null;
  clear(place: string): void;
}

const KEY = (place: string): string => `tankside-typed-${place}`;

/** @param storage the page's localStorage, or null where it is blocked */
export function openTypedText(
  storage: Pick<Storage, 'getItem' | 'setItem' | 'removeItem'> | null,
): TypedText {
  return {
    put(place, text) {
      try {
        storage?.setItem(KEY(place), text);
      } catch {
        storage?.removeItem(KEY(place)); // Full: better nothing than an older text.
      }
    },
    look: (place) => storage?.getItem(KEY(place)) ?? null,
    clear: (place) => storage?.removeItem(KEY(place)),
  };
}
