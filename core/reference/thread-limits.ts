import type { Source } from '../figure/figure.ts';

/** Limits of one screw thread, m; null where the standard sets none. */
export interface ThreadLimits {
  /** As written on a drawing: M6x1-6H, 1/4-20 UNC-2B. */
  readonly designation: string;
  /** 6H, 2B. */
  readonly toleranceClass: string;
  readonly kind: 'internal' | 'external';
  readonly nominalM: number;
  readonly pitchM: number;
  /** Between the flanks: 60° for both systems here. */
  readonly flankAngleRad: number;
  readonly pitchDiameter: { readonly lowM: number; readonly highM: number };
  /**
   * What the pitch diameter may be once it is coated: as cut; of a bolt up to basic size, for its allowance is there for a coating. So
   * say ISO 965-1, ASME B1.13M and ASME B1.1 section 7, each as open articles and an open specification quote it.
   */
  readonly coatedPitch: { readonly lowM: number; readonly highM: number };
  /** What has to go on or in after coating, and how far the thread as cut stays from it at its most metal. */
  readonly gauge: { readonly go: string; readonly allowanceM: number };
  readonly majorDiameter: { readonly lowM: number | null; readonly highM: number | null };
  readonly minorDiameter: { readonly lowM: number | null; readonly highM: number | null };
  readonly source: Source;
}

export const SIXTY_DEGREES_RAD = Math.PI / 3;
