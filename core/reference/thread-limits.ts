import type { Source } from '../figure/figure.ts';

/** Limits of one screw thread, m; null where the standard sets none. */
export interface ThreadLimits {
  /** As written on a drawing: M6x1-6H, 1/4-20 UNC-2B. */
  readonly designation: string;
  readonly kind: 'internal' | 'external';
  readonly nominalM: number;
  readonly pitchM: number;
  /** Between the flanks: 60° for both systems here. */
  readonly flankAngleRad: number;
  readonly pitchDiameter: { readonly lowM: number; readonly highM: number };
  readonly majorDiameter: { readonly lowM: number | null; readonly highM: number | null };
  readonly minorDiameter: { readonly lowM: number | null; readonly highM: number | null };
  readonly source: Source;
}

export const SIXTY_DEGREES_RAD = Math.PI / 3;
