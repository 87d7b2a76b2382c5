import type { Part } from '../job/job.ts';
import { flagRunsInto } from './triangle-runs.ts';

/**
 * Bits of a triangle's coverage; none set means coat. Mask wins over contact; show is independent of both. `sealed` comes
 * with mask: the wall of a void that no bath reaches, worked out from the mesh and never saved.
 */
export const COVERAGE_BITS = { mask: 1, contact: 2, show: 4, sealed: 8 } as const;

/** One byte a triangle, from the runs saved in the job. */
export function coverageFlags(triangleCount: number, coverage: Part['coverage']): Uint8Array {
  const flags = new Uint8Array(triangleCount);
  flagRunsInto(flags, coverage.mask, COVERAGE_BITS.mask);
  flagRunsInto(flags, coverage.contact, COVERAGE_BITS.contact);
  flagRunsInto(flags, coverage.show, COVERAGE_BITS.show);
  return flags;
}

export type Treatment = 'coat' | 'mask' | 'contact';

/** What happens to a triangle with these flags. */
export function treatmentOf(flags: number): Treatment {
  if (flags & COVERAGE_BITS.mask) return 'mask';
  return flags & COVERAGE_BITS.contact ? 'contact' : 'coat';
}
