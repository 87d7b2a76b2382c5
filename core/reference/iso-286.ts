import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';

/**
 * ISO 286-1:2010, limits for sizes up to 500 mm: standard tolerances IT4-IT11 (table 1) and fundamental deviations
 * (tables 2 to 5) in µm. Tabulated, because the standard's own formulas miss its printed values by a micrometre here and
 * there. Each row of tolerances and shaft deviations was found alike in several independent open tables; E and F
 * follow the shafts e and f.
 */
export const ISO_286_SOURCE: Source = {
  standing: 'published',
  text: 'ISO 286-1:2010, tables 1 to 5, as held by several open tables that agree',
};

/** Upper end of each range, mm, included; the first one starts above 0. */
export const ISO_286_RANGES_MM = [3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500] as const;

/** Standard tolerances, µm, one column a range. IT4 is there for the rule of increments of grade 5. */
export const IT_UM: Readonly<Record<number, readonly number[]>> = {
  4: [3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20],
  5: [4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27],
  6: [6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40],
  7: [10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63],
  8: [14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97],
  9: [25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155],
  10: [40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250],
  11: [60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400],
};

/** Shafts with a gap: upper deviation below nominal by this, µm. */
const GAP_UM = {
  e: [14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135],
  f: [6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68],
  g: [2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20],
  h: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0],
} as const;

/** Shafts without one: lower deviation above nominal by this, µm. k holds for grades 4 to 7, otherwise 0. */
const LIFT_UM = {
  k: [0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5],
  m: [2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23],
  n: [4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40],
  p: [6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68],
} as const;

export const HOLE_LETTERS = ['H', 'G', 'F', 'E', 'JS', 'K', 'M', 'N', 'P'] as const;
export const SHAFT_LETTERS = ['h', 'g', 'f', 'e', 'js', 'k', 'm', 'n', 'p'] as const;

export interface SizeLimits {
  readonly kind: 'hole' | 'shaft';
  readonly nominalM: number;
  /** Deviations from nominal. */
  readonly lowerM: number;
  readonly upperM: number;
  readonly lowM: number;
  readonly highM: number;
  /** As written on a drawing: 10H7. */
  readonly designation: string;
  readonly source: Source;
}

const UM = 1e-6;

/**
 * Limits of a hole (capital letter) or shaft (small letter) for IT5-IT11 up to 500 mm. Fails with `fit-unknown` (letter
 * or grade not held), `fit-size` (size not held), `fit-not-in-standard` (K above IT8 over 3 mm, N above IT8 up to 1 mm).
 */
export function isoLimits(nominalM: number, letter: string, grade: number): Result<SizeLimits> {
  const mm = Math.round(nominalM * 1e9) / 1e6;
  const column = ISO_286_RANGES_MM.findIndex((top) => mm <= top);
  if (!(mm > 0) || column < 0) {
    return failure(
      'fit-size',
      'Limits are held for sizes above 0 and up to 500 mm.',
      'Type the nominal size in mm.',
    );
  }
  const tolerance = IT_UM[grade]?.[column];
  const hole = (HOLE_LETTERS as readonly string[]).includes(letter);
  const shaft = (SHAFT_LETTERS as readonly string[]).includes(letter);
  if (tolerance === undefined || grade < 5 || !(hole || shaft)) {
    return failure(
      'fit-unknown',
      `“${letter}${grade}” is not among the tolerance classes held here.`,
      'Use holes H G F E JS K M N P or shafts h g f e js k m n p, grades 5 to 11, or type the limits themselves.',
    );
  }
  if (letter === 'K' && grade > 8 && column > 0) {
    return failure(
      'fit-not-in-standard',
      'The standard gives no K above grade 8 for sizes over 3 mm.',
      'Check the letter and the grade on the drawing.',
    );
  }
  if (letter === 'N' && grade > 8 && mm <= 1) {
    return failure(
      'fit-not-in-standard',
      'The standard gives no N above grade 8 for sizes up to 1 mm.',
      'Check the letter and the grade on the drawing.',
    );
  }
  const lower = shaft
    ? shaftLower(letter, grade, column, tolerance)
    : holeLower(letter, grade, column, tolerance);
  return success({
    kind: hole ? 'hole' : 'shaft',
    nominalM: mm / 1000,
    lowerM: lower * UM,
    upperM: (lower + tolerance) * UM,
    lowM: mm / 1000 + lower * UM,
    highM: mm / 1000 + (lower + tolerance) * UM,
    designation: `${mm}${letter}${grade}`,
    source: ISO_286_SOURCE,
  });
}

function shaftLower(letter: string, grade: number, column: number, tolerance: number): number {
  if (letter === 'js') return -tolerance / 2;
  if (letter in GAP_UM) return -GAP_UM[letter as keyof typeof GAP_UM][column]! - tolerance;
  if (letter === 'k' && grade > 7) return 0;
  return LIFT_UM[letter as keyof typeof LIFT_UM][column]!;
}

/**
 * E to H mirror the shaft. K, M, N up to IT8 and P up to IT7 mirror it too and are raised by the difference between their
 * tolerance and the next finer one’s (the standard’s rule of increments), over 3 mm.
 */
function holeLower(letter: string, grade: number, column: number, tolerance: number): number {
  if (letter === 'JS') return -tolerance / 2;
  const small = letter.toLowerCase();
  if (small in GAP_UM) return GAP_UM[small as keyof typeof GAP_UM][column]!;
  const raised = column > 0 && grade <= (letter === 'P' ? 7 : 8);
  const raise = raised ? IT_UM[grade]![column]! - IT_UM[grade - 1]![column]! : 0;
  // Printed exceptions: N above IT8 has no deviation over 3 mm, and M6 from 250 to 315 mm is −9 instead of −11.
  if (letter === 'N' && grade > 8 && column > 0) return -tolerance;
  if (letter === 'M' && grade === 6 && column === 10) return -9 - tolerance;
  return -LIFT_UM[small as keyof typeof LIFT_UM][column]! + raise - tolerance;
}
