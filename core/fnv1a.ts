/**
 * A 32-bit sum of bytes that tells damage and difference, not malice: FNV-1a (Fowler, Noll and Vo; draft-eastlake-fnv).
 */
export function fnv1a(bytes: Uint8Array): number {
  let sum = 0x811c9dc5;
  for (let i = 0; i < bytes.length; i++) sum = Math.imul(sum ^ bytes[i]!, 0x01000193);
  return sum >>> 0;
}
