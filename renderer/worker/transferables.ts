/**
 * Every buffer under `value`, once each, for postMessage to move instead of copy. Empty ones are left out: nothing
 * is gained, and one that is shared as a constant would be lost.
 */
export function transferablesIn(value: unknown): ArrayBuffer[] {
  const found = new Set<ArrayBuffer>();
  const seen = new Set<object>();
  const walk = (part: unknown): void => {
    if (typeof part !== 'object' || part === null || seen.has(part)) return;
    seen.add(part);
    if (part instanceof ArrayBuffer) {
      if (part.byteLength > 0) found.add(part);
    } else if (ArrayBuffer.isView(part)) {
      if (part.buffer instanceof ArrayBuffer && part.buffer.byteLength > 0) found.add(part.buffer);
    } else {
      for (const inner of Array.isArray(part) ? part : Object.values(part)) walk(inner);
    }
  };
  walk(value);
  return [...found];
}
