import { numberSizeInch, UNIFIED_SIZES } from '../reference/asme-b1-1.ts';
import { ISO_261 } from '../reference/iso-965.ts';
import { threadFits, type DrawnAt } from './thread-area.ts';

export interface ThreadCandidate {
  /** As parse-thread.ts reads it: M6x1, 1/4-20. */
  readonly designation: string;
  readonly drawnAt: DrawnAt;
}

const INCH_M = 0.0254;

/**
 * Threads that a plain cylinder of this diameter may stand for, nearest first, coarse before fine. Only a list to
 * choose from: the drawing decides.
 */
export function threadsForCylinder(diameterM: number): ThreadCandidate[] {
  if (!(diameterM > 0)) throw new RangeError(`threadsForCylinder: diameterM is ${diameterM}`);
  const all: { designation: string; nominalM: number; pitchM: number }[] = [
    ...ISO_261.flatMap(([diameter, coarse, fine]) =>
      [coarse, ...fine].map((pitch) => ({
        designation: `M${diameter}x${pitch}`,
        nominalM: diameter / 1000,
        pitchM: pitch / 1000,
      })),
    ),
    ...UNIFIED_SIZES.flatMap(([size, inch, coarse, fine]) =>
      [coarse, fine].map((perInch) => ({
        designation: `${isNumberSize(size, inch) ? '#' : ''}${size}-${perInch}`,
        nominalM: inch * INCH_M,
        pitchM: INCH_M / perInch,
      })),
    ),
  ];
  return all
    .flatMap(({ designation, nominalM, pitchM }) => {
      const [nearest] = threadFits(diameterM, nominalM, pitchM);
      if (!nearest?.fits) return [];
      return [{ designation, drawnAt: nearest.drawnAt, off: Math.abs(nearest.offM) / pitchM }];
    })
    .sort((a, b) => a.off - b.off)
    .map(({ designation, drawnAt }) => ({ designation, drawnAt }));
}

function isNumberSize(size: string, inch: number): boolean {
  return /^\d+$/.test(size) && Math.abs(numberSizeInch(Number(size)) - inch) < 1e-9;
}
