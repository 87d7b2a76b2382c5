/**
 * Which parts have had a thickness map on this computer. The map itself is kept apart (kept-maps.ts) and no longer found
 * once the job has changed or the browser has dropped it; that it was there is remembered, so that this can be said.
 */
const KEY = 'tankside-mapped-parts';
/** The oldest go first; a shop's jobs of some years. */
const MOST = 500;

/** null where the browser keeps nothing, and outside one. */
function storage(): Storage | null {
  try {
    return globalThis.localStorage ?? null;
  } catch {
    return null;
  }
}

export function mappedParts(kept: Pick<Storage, 'getItem'> | null = storage()): string[] {
  try {
    const ids: unknown = JSON.parse(kept?.getItem(KEY) ?? '[]');
    return Array.isArray(ids) ? ids.filter((id) => typeof id === 'string') : [];
  } catch {
    return [];
  }
}

export function rememberMapped(
  partId: string,
  kept: Pick<Storage, 'getItem' | 'setItem'> | null = storage(),
): void {
  const others = mappedParts(kept).filter((id) => id !== partId);
  try {
    kept?.setItem(KEY, JSON.stringify([...others, partId].slice(-MOST)));
  } catch {
    // Full or blocked storage: work in progress says so itself.
  }
}
