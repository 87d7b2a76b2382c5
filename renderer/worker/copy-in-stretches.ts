/** What is copied in one go: 4 MB take a few milliseconds. */
export const STRETCH_BYTES = 4 * 2 ** 20;

type Typed = Uint8Array | Uint16Array | Uint32Array | Int32Array | Float32Array | Float64Array;

/**
 * Typed arrays under `value` that are longer than a stretch, once each, but for those whose buffers are given away.
 * postMessage would copy them while the page stands still: 36 MB of a million triangles for a tenth of a second.
 */
export function largeArraysIn(value: unknown, given: readonly ArrayBuffer[]): Typed[] {
  const found = new Set<Typed>();
  const seen = new Set<object>();
  const walk = (part: unknown): void => {
    if (typeof part !== 'object' || part === null || seen.has(part)) return;
    seen.add(part);
    if (ArrayBuffer.isView(part)) {
      if (part.byteLength > STRETCH_BYTES && !given.includes(part.buffer as ArrayBuffer) && isTyped(part))
        found.add(part);
    } else if (Array.isArray(part)) {
      // Of a list of numbers there is nothing to find.
      if (typeof part[0] === 'object') part.forEach(walk);
    } else if (isPlain(part)) Object.values(part).forEach(walk);
  };
  walk(value);
  return [...found];
}

/**
 * Copies arrays a stretch at a time, with room for the page's own work between two.
 *
 * @param wanted asked before each stretch; once it says no the copies are given up and the answer is null
 * @throws RangeError when there is no memory for them
 */
export async function copyInStretches(
  arrays: readonly Typed[],
  wanted: () => boolean,
): Promise<Map<Typed, Typed> | null> {
  const copies = new Map<Typed, Typed>();
  for (const array of arrays) {
    const copy = new (array.constructor as new (length: number) => Typed)(array.length);
    const stretch = STRETCH_BYTES / array.BYTES_PER_ELEMENT;
    for (let at = 0; at < array.length; at += stretch) {
      await nextTask();
      if (!wanted()) return null;
      copy.set(array.subarray(at, at + stretch), at);
    }
    copies.set(array, copy);
  }
  return copies;
}

/** The same value with the copies in place of what they were made of. */
export function withCopies<T>(value: T, copies: ReadonlyMap<Typed, Typed>): T {
  const renewed = new Map<object, unknown>();
  const renew = (part: unknown): unknown => {
    if (typeof part !== 'object' || part === null) return part;
    if (ArrayBuffer.isView(part)) return copies.get(part as Typed) ?? part;
    const before = renewed.get(part);
    if (before !== undefined) return before;
    let now: unknown = part;
    if (Array.isArray(part)) {
      if (typeof part[0] === 'object') now = part.map(renew);
    } else if (isPlain(part)) {
      now = Object.fromEntries(Object.entries(part).map(([key, inner]) => [key, renew(inner)]));
    }
    renewed.set(part, now);
    return now;
  };
  return renew(value) as T;
}

function isTyped(view: ArrayBufferView): view is Typed {
  return 'BYTES_PER_ELEMENT' in view && !(view instanceof BigInt64Array || view instanceof BigUint64Array);
}

function isPlain(part: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(part);
  return prototype === Object.prototype || prototype === null;
}

/** Of a message channel: a timer would wait 4 ms each time. */
function nextTask(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
